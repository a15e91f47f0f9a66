/** Choosing the aircraft from what the service knows. */
import { aircraftState } from '../state.ts';
import { Field } from './field.tsx';

interface AircraftFieldProps {
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly complaint?: string | undefined;
}

export function AircraftField({ value, onValue, complaint }: AircraftFieldProps) {
  const state = aircraftState.value;
  const known = state.kind === 'ok' ? state.value.aircraft : [];
  const isListed = value === '' || known.some((one) => one.id === value);
  return (
    <Field name="aircraft" label="Aircraft" complaint={complaint}>
      <select
        id="leg-aircraft"
        name="aircraft"
        value={value === '' ? (known[0]?.id ?? '') : value}
        onChange={(event) => onValue(event.currentTarget.value)}
        aria-invalid={complaint !== undefined}
      >
        {known.length === 0 && (
          <option value="">{state.kind === 'loading' ? 'asking…' : 'list not reached'}</option>
        )}
        {!isListed && <option value={value}>{value.startsWith('{') ? 'profile in the link' : value}</option>}
        {known.map((one) => (
          <option key={one.id} value={one.id}>
            {one.name}
          </option>
        ))}
      </select>
    </Field>
  );
}
