/** What became of the last write. */
import type { Writing } from './use-writing.ts';

export function SaidLine({ said, isBusy }: Pick<Writing, 'said' | 'isBusy'>) {
  return (
    <p role="status" class={said?.isFault === true ? 'setup-said complaint' : 'setup-said'}>
      {isBusy ? 'One moment…' : (said?.sentence ?? '')}
    </p>
  );
}
