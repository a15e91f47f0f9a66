/** Holds what a finger is on where it is, while what stands above it changes. */

/** Half a pixel is no movement. */
const STILL_PX = 0.5;

/** Runs a change, and before the next picture scrolls by what the element has moved because of it. */
export function keepInPlace(element: Element, change: () => void): void {
  const beforePx = element.getBoundingClientRect().top;
  change();
  requestAnimationFrame(() => {
    const movedPx = element.getBoundingClientRect().top - beforePx;
    if (element.isConnected && Math.abs(movedPx) > STILL_PX) scrollBy({ top: movedPx, behavior: 'instant' });
  });
}
