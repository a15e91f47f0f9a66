/** Has the page kept on this device, once it is drawn and nothing else is to be done: the first answer does not wait for it. */
import { whenIdle } from './when-idle.ts';

export function keepPageOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  // Refused by the browser's settings, say: the page then works with a connection only.
  const register = () => void navigator.serviceWorker.register('/service-worker.js').catch(() => undefined);
  const afterLoad = () => void setTimeout(() => whenIdle(register), DRAWN_AFTER_MS);
  if (document.readyState === 'complete') afterLoad();
  else addEventListener('load', afterLoad, { once: true });
}

/** Long enough for an answer on a slow device. */
const DRAWN_AFTER_MS = 3000;
