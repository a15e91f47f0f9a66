/** The answer never gets lower while one brief is read: what stands below it stays where it was. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import { useElementWidth } from '../use-element-width.ts';

/** @param reader  What is read: another one, or another width, starts anew. */
export function useKeptHeight(element: { current: HTMLElement | null }, reader: object): void {
  const widthPx = useElementWidth(element);
  const kept = useRef({ reader, widthPx, heightPx: 0 });
  useLayoutEffect(() => {
    const box = element.current;
    if (box === null) return;
    if (kept.current.reader !== reader || kept.current.widthPx !== widthPx) {
      kept.current = { reader, widthPx, heightPx: 0 };
      box.style.removeProperty('--kept-height');
    }
    kept.current.heightPx = Math.max(kept.current.heightPx, box.offsetHeight);
    box.style.setProperty('--kept-height', `${kept.current.heightPx}px`);
  });
}
