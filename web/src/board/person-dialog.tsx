/** Asks once who is there: marks and acknowledgements bear a name. */
import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { personSchema } from '../../../worker/schema/board.ts';
import { awaitsPerson, namePerson, person } from './store.ts';

export function PersonDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const text = useSignal(person.value);
  const waiting = awaitsPerson.value;
  useEffect(() => {
    if (waiting !== undefined && dialog.current?.open === false) dialog.current.showModal();
  }, [waiting]);
  const done = (event: Event) => {
    event.preventDefault();
    const { data: name } = personSchema.safeParse(text.value);
    if (name === undefined) return;
    namePerson(name);
    awaitsPerson.value = undefined;
    dialog.current?.close();
    waiting?.(name);
  };
  return (
    <dialog
      ref={dialog}
      class="person-dialog"
      aria-labelledby="person-title"
      onClose={() => (awaitsPerson.value = undefined)}
    >
      <form onSubmit={done}>
        <h2 id="person-title">Who are you?</h2>
        <p>
          What you mark or acknowledge bears this name on the board and in its log. It is kept on this device.
        </p>
        <label for="person-name">Name</label>
        <input
          id="person-name"
          autocomplete="name"
          maxlength={60}
          value={text.value}
          onInput={(event) => (text.value = event.currentTarget.value)}
        />
        <p class="dialog-buttons">
          <button type="submit" disabled={text.value.trim() === ''}>
            That is me
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            Not now
          </button>
        </p>
      </form>
    </dialog>
  );
}
