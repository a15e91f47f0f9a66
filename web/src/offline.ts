/** Has the page kept on this device, once it is drawn: the first answer does not wait for it. */
export function keepPageOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  const register = () => {
    // Refused by the browser's settings, say: the page then works with a connection only.
    navigator.serviceWorker.register('/service-worker.js').catch(() => undefined);
  };
  if (document.readyState === 'complete') register();
  else addEventListener('load', register, { once: true });
}
