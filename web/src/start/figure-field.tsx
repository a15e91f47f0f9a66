/** One figure of an aircraft, with what is wrong with it beside it. */
import type { Figure } from './aircraft-figures.ts';

interface FigureFieldProps {
  readonly figure: Figure;
  readonly value: string;
  readonly complaint?: string | undefined;
  readonly onValue: (text: string) => void;
}

export function FigureField({ figure: { path, label }, value, complaint, onValue }: FigureFieldProps) {
  const id = `figure-${path.replaceAll('.', '-')}`;
  return (
    <p class="figure">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        value={value}
        onInput={(event) => onValue(event.currentTarget.value)}
        aria-invalid={complaint !== undefined}
        aria-describedby={complaint === undefined ? undefined : `${id}-complaint`}
      />
      {complaint !== undefined && (
        <span class="complaint" id={`${id}-complaint`}>
          {complaint}
        </span>
      )}
    </p>
  );
}
