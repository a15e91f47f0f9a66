/** Has the pages kept on this device, so that the board opens without a connection; the first answer does not wait for it. */
import { whenIdle } from '../when-idle.ts';

export function keepBoardPageOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  whenIdle(() => {
    // Refused by the browser's settings, say: the page then works with a connection only.
    navigator.serviceWorker.register('/service-worker.js').catch(() => undefined);
  });
}
