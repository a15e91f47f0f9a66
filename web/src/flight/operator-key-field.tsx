/** Where the operator's key is entered. */
import { isSendable, keepOperatorKey, operatorKey } from './operator-key.ts';

/** @param id  One a card: two of them may stand on the page. */
export function OperatorKeyField({ id }: { readonly id: string }) {
  return (
    <p class="seen-measured">
      <label for={id}>Key of your operator</label>
      <input
        id={id}
        type="password"
        autocomplete="off"
        value={operatorKey.value}
        aria-invalid={operatorKey.value !== '' && !isSendable(operatorKey.value)}
        onChange={(event) => keepOperatorKey(event.currentTarget.value)}
      />
    </p>
  );
}
