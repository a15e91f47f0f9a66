/** Draws anew at each tick, and when the page wakes; the time is asked for where it is shown. */
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';

const TICK_MS = 500;

export function useClock(): void {
  const ticks = useSignal(0);
  ticks.value;
  useEffect(() => {
    const tick = () => {
      ticks.value += 1;
    };
    const timer = setInterval(tick, TICK_MS);
    document.addEventListener('visibilitychange', tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', tick);
    };
  }, []);
}
