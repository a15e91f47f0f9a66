/** Lines of text of the entry form. */
import type { LegParameter } from '../url-state.ts';
import { Field } from './field.tsx';
import type { LegFields } from './leg-fields.ts';

export interface FormText {
  readonly field: keyof LegFields;
  /** Of the parameter that it belongs to; the time has the date's complaint. */
  readonly name: LegParameter | 'time';
  readonly label: string;
  readonly hint: string;
  /** A number with or without decimals, and nothing else. */
  readonly isNumber?: boolean;
}

interface TextFieldsProps {
  readonly texts: readonly FormText[];
  readonly fields: LegFields;
  readonly onChange: (change: Partial<LegFields>) => void;
  readonly complaintOf: (parameter: LegParameter) => string | undefined;
}

export function TextFields({ texts, fields, onChange, complaintOf }: TextFieldsProps) {
  return (
    <>
      {texts.map((text) => (
        <TextField
          key={text.name}
          text={text}
          value={fields[text.field]}
          onValue={(value) => onChange({ [text.field]: value })}
          complaint={text.name === 'time' ? undefined : complaintOf(text.name)}
        />
      ))}
    </>
  );
}

interface TextFieldProps {
  readonly text: FormText;
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly complaint: string | undefined;
}

function TextField({
  text: { name, label, hint, isNumber = false },
  value,
  onValue,
  complaint,
}: TextFieldProps) {
  return (
    <Field name={name} label={label} complaint={complaint}>
      <input
        id={`leg-${name}`}
        name={name}
        type="text"
        autocomplete="off"
        spellcheck={false}
        inputMode={isNumber ? 'decimal' : undefined}
        placeholder={hint}
        value={value}
        onInput={(event) => onValue(event.currentTarget.value)}
        aria-invalid={complaint !== undefined}
        aria-describedby={complaint === undefined ? undefined : `leg-${name}-complaint`}
      />
    </Field>
  );
}
