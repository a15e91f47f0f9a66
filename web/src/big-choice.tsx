/** One of a few, each a target large enough for a thumb in a glove. */
interface BigChoiceProps<Value extends string> {
  readonly label: string;
  readonly words: Readonly<Record<Value, string>>;
  readonly value: Value | undefined;
  readonly onChoose: (value: Value) => void;
}

export function BigChoice<Value extends string>({ label, words, value, onChoose }: BigChoiceProps<Value>) {
  return (
    <fieldset class="big-choice">
      <legend>{label}</legend>
      {(Object.keys(words) as Value[]).map((each) => (
        <button key={each} type="button" aria-pressed={each === value} onClick={() => onChoose(each)}>
          {words[each]}
        </button>
      ))}
    </fieldset>
  );
}
