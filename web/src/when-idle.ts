/** What can wait until the page has drawn what was asked for. */

const LATEST_MS = 2000;

/** @returns  What takes the wish back. */
export function whenIdle(act: () => void): () => void {
  if ('requestIdleCallback' in window) {
    const handle = requestIdleCallback(act, { timeout: LATEST_MS });
    return () => cancelIdleCallback(handle);
  }
  const timer = setTimeout(act, LATEST_MS / 10);
  return () => clearTimeout(timer);
}

/** After the next picture: what follows a finger is drawn first, what follows that comes behind. */
export function afterPaint(act: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const frame = requestAnimationFrame(() => {
    timer = setTimeout(act);
  });
  return () => {
    cancelAnimationFrame(frame);
    clearTimeout(timer);
  };
}
