/** The answer never gets lower while one brief is read: what stands below it stays where it was. */
import { useLayoutEffect } from 'preact/hooks';
import { useElementWidth } from '../use-element-width.ts';

/** @param reader  What is read: another one, or another width, starts anew. */
export function useKeptHeight(element: { current: HTMLElement | null }, reader: object): void {
  const widthPx = useElementWidth(element);
  useLayoutEffect(() => {
    const { current } = element;
    if (current === null) return;
    let keptPx = 0;
    current.style.removeProperty('--kept-height');
    // The observer tells heights that are laid out already: asking for one here would lay the page out once more.
    const observer = new ResizeObserver(() => {
      keptPx = Math.max(keptPx, current.offsetHeight);
      current.style.setProperty('--kept-height', `${keptPx}px`);
    });
    observer.observe(current);
    return () => observer.disconnect();
  }, [reader, widthPx]);
}
