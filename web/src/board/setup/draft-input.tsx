/** One line of the leg's form, with what is wrong with it below. */
import { type DraftFault, faultSentence, type TextField } from './leg-draft.ts';

export interface DraftText {
  readonly field: TextField;
  readonly label: string;
  readonly hint: string;
  readonly type?: 'date';
  readonly isNumber?: boolean;
  readonly isWide?: boolean;
}

interface DraftInputProps {
  readonly text: DraftText;
  readonly value: string;
  readonly fault: DraftFault | undefined;
  readonly onText: (text: string) => void;
}

export function DraftInput({ text, value, fault, onText }: DraftInputProps) {
  const { field, label, hint, type, isNumber = false, isWide = false } = text;
  const id = `setup-${field}`;
  return (
    <p class={isWide ? 'setup-field setup-field-wide' : 'setup-field'}>
      <label for={id}>{label}</label>
      <input
        id={id}
        {...(type === 'date' ? { type: 'date' as const } : {})}
        inputMode={isNumber ? 'decimal' : undefined}
        autocomplete="off"
        spellcheck={false}
        placeholder={hint}
        value={value}
        aria-invalid={fault !== undefined}
        aria-describedby={fault === undefined ? undefined : `${id}-fault`}
        onInput={(event) => onText(event.currentTarget.value)}
      />
      <Fault id={`${id}-fault`} fault={fault} />
    </p>
  );
}

export function Fault({ id, fault }: { readonly id: string; readonly fault: DraftFault | undefined }) {
  if (fault === undefined) return null;
  return (
    <span class="complaint" id={id}>
      {faultSentence(fault)}
    </span>
  );
}
