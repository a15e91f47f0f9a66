/** The answer never gets lower while one brief is read: what stands below it stays where it was. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import { useElementWidth } from '../use-element-width.ts';

/** @param reader  What is read: another one, or another width, starts anew. */
export function useKeptHeight(element: { current: HTMLElement | null }, reader: object): void {
  const widthPx = useElementWidth(element);
  const keptPx = useRef(0);
  useLayoutEffect(() => {
    keptPx.current = 0;
    element.current?.style.removeProperty('--kept-height');
  }, [reader, widthPx]);
  useLayoutEffect(() => {
    const { current } = element;
    if (current === null) return;
    // The observer tells heights that are laid out already: asking for one here would lay the page out once more.
    const observer = new ResizeObserver(() => {
      keptPx.current = Math.max(keptPx.current, current.offsetHeight);
      current.style.setProperty('--kept-height', `${keptPx.current}px`);
    });
    observer.observe(current);
    return () => observer.disconnect();
  }, []);
}
