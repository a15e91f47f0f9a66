/** What became of the last thing that was done, with the way back where there is one. */
import { useEffect } from 'preact/hooks';
import { notice } from './store.ts';

const SHOWN_MS = 12_000;

export function NoticeBar() {
  const now = notice.value;
  useEffect(() => {
    // What went wrong stays until it is read.
    if (now === undefined || now.isBad) return undefined;
    const timer = setTimeout(() => (notice.value = undefined), SHOWN_MS);
    return () => clearTimeout(timer);
  }, [now]);
  return (
    <div
      role="status"
      class={now === undefined ? 'notice-none' : `notice-bar${now.isBad ? ' notice-bad' : ''}`}
    >
      {now !== undefined && (
        <>
          <p>{now.text}</p>
          {now.undo !== undefined && (
            <button type="button" onClick={now.undo}>
              Undo
            </button>
          )}
          <button type="button" onClick={() => (notice.value = undefined)}>
            Close
          </button>
        </>
      )}
    </div>
  );
}
