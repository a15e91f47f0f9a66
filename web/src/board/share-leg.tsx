/** Shares the leg's brief as it is now: a link that never changes, for the pilot. */
import { useSignal } from '@preact/signals';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { shareFlight } from './board-calls.ts';
import { failureWords } from './failure-words.ts';
import { canEdit, link } from './store.ts';

type State =
  | { readonly kind: 'idle' | 'asked' }
  | { readonly kind: 'made'; readonly href: string; readonly isCopied: boolean }
  | { readonly kind: 'failed'; readonly sentence: string };

export function ShareLeg({ flight }: { readonly flight: BoardFlight }) {
  const state = useSignal<State>({ kind: 'idle' });
  if (!canEdit.value) return null;
  const share = async () => {
    const at = link.peek();
    if (at === undefined) return;
    state.value = { kind: 'asked' };
    const answer = await shareFlight(at, flight.id);
    state.value =
      answer.kind === 'ok'
        ? { kind: 'made', href: new URL(answer.value.link, location.origin).href, isCopied: false }
        : { kind: 'failed', sentence: failureWords(answer) };
  };
  const now = state.value;
  return (
    <>
      <button type="button" disabled={now.kind === 'asked'} onClick={() => void share()}>
        {now.kind === 'asked' ? 'Making the link' : 'Make a link to it as it is now'}
      </button>
      {now.kind === 'failed' && <p class="complaint">No link: {now.sentence}</p>}
      {now.kind === 'made' && (
        <p class="share-made">
          <a href={now.href}>{now.href}</a>{' '}
          <button
            type="button"
            onClick={() =>
              void navigator.clipboard?.writeText(now.href).then(
                () => (state.value = { ...now, isCopied: true }),
                () => undefined,
              )
            }
          >
            {now.isCopied ? 'Copied' : 'Copy the link'}
          </button>
        </p>
      )}
    </>
  );
}
