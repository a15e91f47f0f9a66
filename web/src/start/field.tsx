/** One labelled field of the entry form, with what is wrong with it beside it. */
import type { ComponentChildren } from 'preact';

interface FieldProps {
  readonly name: string;
  readonly label: string;
  readonly complaint?: string | undefined;
  readonly children: ComponentChildren;
}

export function Field({ name, label, complaint, children }: FieldProps) {
  return (
    <p class={`field field-${name}`}>
      <label for={`leg-${name}`}>{label}</label>
      {children}
      {complaint !== undefined && (
        <span class="complaint" id={`leg-${name}-complaint`}>
          {complaint}
        </span>
      )}
    </p>
  );
}
