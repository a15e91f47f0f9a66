/** Where the operator's key is entered. */
import { LabelledInput } from '../labelled-input.tsx';
import { isSendable, keepOperatorKey, operatorKey } from './operator-key.ts';

/** @param id  One a card: two of them may stand on the page. */
export function OperatorKeyField({ id }: { readonly id: string }) {
  const isWrong = operatorKey.value !== '' && !isSendable(operatorKey.value);
  return (
    <LabelledInput
      id={id}
      label="Key of your operator"
      isSecret
      value={operatorKey.value}
      isWrong={isWrong}
      words={isWrong ? 'a key has no blanks' : ''}
      onText={keepOperatorKey}
    />
  );
}
