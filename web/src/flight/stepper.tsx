/** A figure with a large key for less and one for more: no typing in the cockpit. */
interface StepperProps {
  readonly label: string;
  readonly text: string;
  readonly value: number;
  readonly step: number;
  readonly least: number;
  readonly most: number;
  readonly onValue: (value: number) => void;
}

export function Stepper({ label, text, value, step, least, most, onValue }: StepperProps) {
  const move = (by: number) =>
    onValue(Math.min(most, Math.max(least, Math.round((value + by) / step) * step)));
  return (
    <fieldset class="stepper" aria-label={label}>
      <span class="stepper-label">{label}</span>
      <button
        type="button"
        aria-label={`${label}: less`}
        disabled={value <= least}
        onClick={() => move(-step)}
      >
        −
      </button>
      <output>{text}</output>
      <button type="button" aria-label={`${label}: more`} disabled={value >= most} onClick={() => move(step)}>
        +
      </button>
    </fieldset>
  );
}
