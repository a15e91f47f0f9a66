/** One labelled line to type in, with what is to be said of it beside it. */
interface LabelledInputProps {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly hint?: string;
  readonly inputMode?: 'text' | 'numeric' | 'decimal';
  readonly isSecret?: boolean;
  /** What is wrong, or is to be known of it; '' for nothing. */
  readonly words?: string;
  readonly isWrong?: boolean;
  readonly onText: (text: string) => void;
}

export function LabelledInput(props: LabelledInputProps) {
  const {
    id,
    label,
    value,
    hint = '',
    inputMode = 'text',
    isSecret = false,
    words = '',
    isWrong = false,
  } = props;
  return (
    <p class="labelled">
      <label for={id}>{label}</label>
      <input
        id={id}
        {...(isSecret ? { type: 'password' as const } : {})}
        inputmode={inputMode}
        autocomplete="off"
        placeholder={hint}
        value={value}
        aria-invalid={isWrong}
        aria-describedby={words === '' ? undefined : `${id}-words`}
        onInput={(event) => props.onText(event.currentTarget.value)}
      />
      {words !== '' && (
        <span class={isWrong ? 'complaint' : 'quiet'} id={`${id}-words`}>
          {words}
        </span>
      )}
    </p>
  );
}
