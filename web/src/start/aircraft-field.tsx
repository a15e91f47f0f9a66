/** Choosing the aircraft from what the service knows and what this device keeps, and editing its figures. */
import { useRef } from 'preact/hooks';
import { type AircraftProfile, aircraftSchema } from '../../../worker/schema/aircraft.ts';
import { keptAircraft } from '../device-aircraft.ts';
import { parsedOr } from '../option-texts.ts';
import { aircraftState } from '../state.ts';
import { originalId } from './aircraft-draft.ts';
import { AircraftEditor } from './aircraft-editor.tsx';
import { Field } from './field.tsx';

interface AircraftFieldProps {
  /** An identifier, or a whole profile as JSON. */
  readonly value: string;
  readonly onChoose: (value: string) => void;
  readonly complaint: string | undefined;
}

export function AircraftField({ value, onChoose, complaint }: AircraftFieldProps) {
  return (
    <Field name="aircraft" label="Aircraft" complaint={complaint}>
      <AircraftSelect value={value} onChoose={onChoose} complaint={complaint} />
    </Field>
  );
}

interface AircraftFiguresProps {
  readonly value: string;
  /** Of an edit. */
  readonly onValue: (value: string) => void;
  /** Of another aircraft. */
  readonly onChoose: (value: string) => void;
}

/** Begins anew with every aircraft chosen: give it a key that changes then. */
export function AircraftFigures({ value, onValue, onChoose }: AircraftFiguresProps) {
  const known = knownAircraft();
  const profile = useLastProfile(value, known);
  if (profile === undefined) return null;
  return (
    <AircraftEditor
      profile={profile}
      onValue={onValue}
      onReset={() => onChoose(originalIn(profile, known))}
    />
  );
}

function knownAircraft(): readonly AircraftProfile[] {
  return aircraftState.value.kind === 'ok' ? aircraftState.value.value.aircraft : [];
}

function originalIn({ id }: AircraftProfile, known: readonly AircraftProfile[]): string {
  const original = originalId(id);
  return known.some((one) => one.id === original) ? original : (known[0]?.id ?? '');
}

/** While a figure does not fit, the profile is the last one that did. */
function useLastProfile(value: string, known: readonly AircraftProfile[]): AircraftProfile | undefined {
  const last = useRef<AircraftProfile | undefined>(undefined);
  const now = value.startsWith('{')
    ? aircraftSchema.safeParse(parsedOr(value)).data
    : (known.find((one) => one.id === value) ?? (value === '' ? known[0] : undefined));
  if (now !== undefined || !value.startsWith('{')) last.current = now;
  return last.current;
}

function AircraftSelect({ value, onChoose, complaint }: AircraftFieldProps) {
  const known = knownAircraft();
  const profile = useLastProfile(value, known);
  const kept = keptAircraft.value;
  const isInline = value.startsWith('{');
  const shown = isInline ? (profile?.id ?? value) : value === '' ? (known[0]?.id ?? '') : value;
  const isListed = [...known, ...kept].some((one) => one.id === shown) || shown === '';
  return (
    <select
      id="leg-aircraft"
      name="aircraft"
      value={shown}
      onChange={(event) => {
        const { value: chosen } = event.currentTarget;
        const mine = kept.find((one) => one.id === chosen);
        onChoose(mine === undefined ? chosen : JSON.stringify(mine));
      }}
      aria-invalid={complaint !== undefined}
    >
      {known.length === 0 && (
        <option value="">{aircraftState.value.kind === 'loading' ? 'asking…' : 'list not reached'}</option>
      )}
      {!isListed && (
        <option value={shown}>{isInline ? `${profile?.name ?? 'profile'}, in the link` : shown}</option>
      )}
      {known.map((one) => (
        <option key={one.id} value={one.id}>
          {one.name}
        </option>
      ))}
      {kept.map((one) => (
        <option key={one.id} value={one.id}>
          {one.name}, edited on this device
        </option>
      ))}
    </select>
  );
}
