/** Entering a leg: one form, every field with its unit and an example. */
import { useSignal } from '@preact/signals';
import type { Problem } from '../contract.ts';
import { aircraftState, legReading, legText, nowMs, openLeg } from '../state.ts';
import { type LegParameter, parameterOfPath, readLegText } from '../url-state.ts';
import { AircraftField, AircraftFigures } from './aircraft-field.tsx';
import { type LegFields, legFields, legTextFromFields } from './leg-fields.ts';
import { MoreFields } from './more-fields.tsx';
import { RouteField } from './route-field.tsx';
import { type FormText, TextFields } from './text-field.tsx';

interface LegFormProps {
  /** What the service said against the leg that was asked for last. */
  readonly problem?: Problem | undefined;
}

interface Complaint {
  readonly parameter: LegParameter;
  readonly sentence: string;
}

const WHEN: readonly FormText[] = [
  { field: 'date', name: 'departure', label: 'Departure date, UTC', hint: '2026-01-14' },
  { field: 'time', name: 'time', label: 'Time, UTC', hint: '11:30' },
];

const HOW: readonly FormText[] = [
  { field: 'fluid', name: 'fluid', label: 'Fluid on board, L', hint: 'not given' },
  { field: 'minimum', name: 'minimum', label: 'Minimum altitude, ft', hint: 'from ground heights' },
  {
    field: 'setting',
    name: 'setting',
    label: 'Altimeter setting, hPa or inHg',
    hint: '1013.25, standard',
  },
];

export function LegForm({ problem }: LegFormProps) {
  const fields = useSignal<LegFields>(legFields(legText.value, nowMs.value));
  const complaint = useSignal<Complaint | undefined>(firstComplaint(problem));
  const set = (change: Partial<LegFields>) => (fields.value = { ...fields.value, ...change });
  const choices = useSignal(0);
  const chooseAircraft = (aircraft: string) => {
    choices.value += 1;
    set({ aircraft });
  };
  const submit = (event: Event) => {
    event.preventDefault();
    const text = legTextFromFields(fields.value, legText.value, defaultAircraft());
    const reading = readLegText(text);
    complaint.value = reading.kind === 'invalid' ? reading : undefined;
    if (reading.kind === 'request') openLeg(text);
    else if (reading.kind === 'invalid') focusField(event.currentTarget, reading.parameter);
  };
  const against = (parameter: LegParameter) =>
    complaint.value?.parameter === parameter ? complaint.value.sentence : undefined;
  return (
    <form class="leg-form" onSubmit={submit} noValidate aria-label="Leg">
      <RouteField
        value={fields.value.route}
        onValue={(route) => set({ route })}
        complaint={against('route')}
      />
      <TextFields texts={WHEN} fields={fields.value} onChange={set} complaintOf={against} />
      <AircraftField
        value={fields.value.aircraft}
        onChoose={chooseAircraft}
        complaint={against('aircraft')}
      />
      <TextFields texts={HOW} fields={fields.value} onChange={set} complaintOf={against} />
      <AircraftFigures
        key={choices.value}
        value={fields.value.aircraft}
        onValue={(aircraft) => set({ aircraft })}
        onChoose={chooseAircraft}
      />
      <MoreFields fields={fields.value} onChange={set} complaintOf={against} />
      <p class="leg-submit">
        <button type="submit">Brief this leg</button>
      </p>
    </form>
  );
}

/** The first complaint comes from the address itself, or from the service. */
function firstComplaint(problem: Problem | undefined): Complaint | undefined {
  if (legReading.value.kind === 'invalid') return legReading.value;
  if (problem?.field === undefined) return undefined;
  return { parameter: parameterOfPath(problem.field.split('.'), legText.value), sentence: problem.detail };
}

function defaultAircraft(): string {
  return aircraftState.value.kind === 'ok' ? (aircraftState.value.value.aircraft[0]?.id ?? '') : '';
}

function focusField(form: EventTarget | null, parameter: LegParameter): void {
  if (!(form instanceof HTMLFormElement)) return;
  const figure = parameter === 'aircraft' ? '.editor-body [aria-invalid="true"]' : undefined;
  const field = figure === undefined ? null : form.querySelector<HTMLElement>(figure);
  (field ?? form.querySelector<HTMLElement>(`#leg-${parameter}`))?.focus();
}
