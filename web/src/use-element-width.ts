/** Width of an element in whole pixels, followed as it changes; 0 before the first measurement. */
import { useLayoutEffect, useState } from 'preact/hooks';

export function useElementWidth(element: { current: HTMLElement | null }): number {
  const [widthPx, setWidthPx] = useState(0);
  useLayoutEffect(() => {
    const { current } = element;
    if (current === null) return;
    const measure = () => setWidthPx(Math.floor(current.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(current);
    return () => observer.disconnect();
  }, []);
  return widthPx;
}
