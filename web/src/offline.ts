/** Has the page kept on this device: the first answer does not wait for it, and it does not wait for one that never comes. */
import { effect } from '@preact/signals';
import { briefState } from './state.ts';
import { whenIdle } from './when-idle.ts';

export function keepPageOffline(): void {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  let isAsked = false;
  const register = () => {
    if (isAsked) return;
    isAsked = true;
    // Refused by the browser's settings, say: the page then works with a connection only.
    navigator.serviceWorker.register('/service-worker.js').catch(() => undefined);
  };
  effect(() => {
    if (briefState.value.kind !== 'loading') whenIdle(register);
  });
  // Who reads the altitude and pockets the phone has it for later.
  document.addEventListener('visibilitychange', register, { once: true });
}
