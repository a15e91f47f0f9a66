/** Where a link is pasted, on a device that has none for this board. */
import { useSignal } from '@preact/signals';
import { linkOf } from './board-key.ts';

export function KeyEntry({ boardId }: { readonly boardId: string }) {
  const text = useSignal('');
  const words = useSignal('');
  const open = (event: Event) => {
    event.preventDefault();
    const link = linkOf(text.value);
    if (link === undefined) {
      words.value = 'That is no link to a board: it ends in # and its key.';
      return;
    }
    words.value = '';
    if (link.boardId !== boardId) location.assign(`/board/${link.boardId}#${link.key}`);
    else {
      // What follows the # alone loads nothing.
      location.hash = link.key;
      location.reload();
    }
  };
  return (
    <form class="key-entry" onSubmit={open}>
      <label for="board-link">Link to the board</label>
      <input
        id="board-link"
        type="password"
        autocomplete="off"
        value={text.value}
        aria-describedby="board-link-words"
        onInput={(event) => (text.value = event.currentTarget.value)}
      />
      <button type="submit">Open</button>
      <p id="board-link-words" class={words.value === '' ? 'quiet' : 'complaint'} role="status">
        {words.value === ''
          ? 'Paste the whole link that you were given. It is kept on this device; whoever has it opens the board.'
          : words.value}
      </p>
    </form>
  );
}
