/** Follows the scrolling of the page: which rows of the list are to be drawn, and how high one is. */
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { type RowWindow, rowWindow } from './row-window.ts';

export interface ListWindow extends RowWindow {
  readonly rowPx: number;
}

interface Elements {
  /** Where the rows stand. */
  readonly rows: { readonly current: HTMLElement | null };
  /** As high as one row, whatever the layout and the size of letters. */
  readonly probe: { readonly current: HTMLElement | null };
}

export function useRowWindow({ rows, probe }: Elements, count: number): ListWindow {
  const found = useSignal<ListWindow>({ first: 0, end: Math.min(count, 12), rowPx: 0 });
  useEffect(() => {
    let frame = 0;
    const measure = () => {
      frame = 0;
      if (rows.current === null || probe.current === null) return;
      const rowPx = probe.current.getBoundingClientRect().height;
      const topPx = rows.current.getBoundingClientRect().top;
      const next = rowWindow({ topPx, screenPx: innerHeight, rowPx, count });
      const now = found.peek();
      if (next.first !== now.first || next.end !== now.end || rowPx !== now.rowPx)
        found.value = { ...next, rowPx };
    };
    const soon = () => {
      frame ||= requestAnimationFrame(measure);
    };
    const sizes = new ResizeObserver(soon);
    if (probe.current) sizes.observe(probe.current);
    addEventListener('scroll', soon, { passive: true });
    addEventListener('resize', soon);
    measure();
    return () => {
      cancelAnimationFrame(frame);
      sizes.disconnect();
      removeEventListener('scroll', soon);
      removeEventListener('resize', soon);
    };
  }, [count]);
  return found.value;
}
