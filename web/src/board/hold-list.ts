/** Whether the list is held: a pointer is down on it, it is being scrolled, or something in it has the focus. */
import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';

const AFTER_SCROLL_MS = 1200;
/** A tap is over before what it touched has answered. */
const AFTER_POINTER_MS = 600;

const pointerHeld = signal(false);
const scrollHeld = signal(false);
const focusHeld = signal(false);

export const isListHeld = () => pointerHeld.value || scrollHeld.value || focusHeld.value;

/** Watches one list while it is shown. */
export function useListHold(list: { readonly current: HTMLElement | null }): void {
  useEffect(() => {
    const element = list.current;
    if (element === null) return undefined;
    const stop = new AbortController();
    const { signal: ended } = stop;
    const later = lateRelease();
    const passive = { signal: ended, passive: true };
    element.addEventListener('pointerdown', () => later.hold(pointerHeld), passive);
    for (const name of ['pointerup', 'pointercancel'] as const)
      addEventListener(name, () => later.release(pointerHeld, AFTER_POINTER_MS), passive);
    addEventListener(
      'scroll',
      () => {
        later.hold(scrollHeld);
        later.release(scrollHeld, AFTER_SCROLL_MS);
      },
      passive,
    );
    element.addEventListener('focusin', () => (focusHeld.value = true), { signal: ended });
    element.addEventListener(
      'focusout',
      ({ relatedTarget }) =>
        (focusHeld.value = relatedTarget instanceof Node && element.contains(relatedTarget)),
      { signal: ended },
    );
    return () => {
      stop.abort();
      later.drop();
    };
  }, []);
}

type Held = typeof pointerHeld;

function lateRelease() {
  const timers = new Map<Held, ReturnType<typeof setTimeout>>();
  return {
    hold(held: Held) {
      clearTimeout(timers.get(held));
      held.value = true;
    },
    release(held: Held, afterMs: number) {
      clearTimeout(timers.get(held));
      timers.set(
        held,
        setTimeout(() => (held.value = false), afterMs),
      );
    },
    drop() {
      for (const timer of timers.values()) clearTimeout(timer);
      pointerHeld.value = scrollHeld.value = focusHeld.value = false;
    },
  };
}
