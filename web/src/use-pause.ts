/** What is done once somebody pauses: a newer wish drops the older one, and so does leaving the page's part. */
import { useEffect, useRef } from 'preact/hooks';

export interface Pause {
  readonly after: (ms: number, act: () => void) => void;
  readonly drop: () => void;
}

export function usePause(): Pause {
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const drop = () => clearTimeout(timer.current);
  useEffect(() => drop, []);
  return {
    after(ms, act) {
      drop();
      timer.current = setTimeout(act, ms);
    },
    drop,
  };
}
