/** Entering a leg: one form, every field with its unit and an example. */
import { useSignal } from '@preact/signals';
import type { Problem } from '../contract.ts';
import { aircraftState, legReading, legText, nowMs, openLeg } from '../state.ts';
import { type LegParameter, parameterOfPath, readLegText } from '../url-state.ts';
import { AircraftField } from './aircraft-field.tsx';
import { Field } from './field.tsx';
import { type LegFields, legFields, legTextFromFields } from './leg-fields.ts';
import { RouteField } from './route-field.tsx';

interface LegFormProps {
  /** What the service said against the leg that was asked for last. */
  readonly problem?: Problem | undefined;
}

interface Complaint {
  readonly parameter: LegParameter;
  readonly sentence: string;
}

export function LegForm({ problem }: LegFormProps) {
  const fields = useSignal<LegFields>(legFields(legText.value, nowMs.value));
  const complaint = useSignal<Complaint | undefined>(firstComplaint(problem));
  const set = (change: Partial<LegFields>) => (fields.value = { ...fields.value, ...change });
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
      <TextField
        name="departure"
        label="Departure date, UTC"
        hint="2026-01-14"
        value={fields.value.date}
        onValue={(date) => set({ date })}
        complaint={against('departure')}
      />
      <TextField
        name="time"
        label="Time, UTC"
        hint="11:30"
        value={fields.value.time}
        onValue={(time) => set({ time })}
      />
      <AircraftField
        value={fields.value.aircraft}
        onValue={(aircraft) => set({ aircraft })}
        complaint={against('aircraft')}
      />
      <TextField
        name="fluid"
        label="Fluid on board, L"
        hint="not given"
        value={fields.value.fluid}
        onValue={(fluid) => set({ fluid })}
        complaint={against('fluid')}
      />
      <TextField
        name="minimum"
        label="Minimum altitude, ft"
        hint="from ground heights"
        value={fields.value.minimum}
        onValue={(minimum) => set({ minimum })}
        complaint={against('minimum')}
      />
      <TextField
        name="setting"
        label="Altimeter setting, hPa or inHg"
        hint="1013.25, standard"
        value={fields.value.setting}
        onValue={(setting) => set({ setting })}
        complaint={against('setting')}
      />
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
  return { parameter: parameterOfPath(problem.field.split('.')), sentence: problem.detail };
}

function defaultAircraft(): string {
  return aircraftState.value.kind === 'ok' ? (aircraftState.value.value.aircraft[0]?.id ?? '') : '';
}

function focusField(form: EventTarget | null, parameter: LegParameter): void {
  if (form instanceof HTMLFormElement) form.querySelector<HTMLElement>(`#leg-${parameter}`)?.focus();
}

interface TextFieldProps {
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly complaint?: string | undefined;
}

function TextField({ name, label, hint, value, onValue, complaint }: TextFieldProps) {
  return (
    <Field name={name} label={label} complaint={complaint}>
      <input
        id={`leg-${name}`}
        name={name}
        type="text"
        autocomplete="off"
        spellcheck={false}
        placeholder={hint}
        value={value}
        onInput={(event) => onValue(event.currentTarget.value)}
        aria-invalid={complaint !== undefined}
        aria-describedby={complaint === undefined ? undefined : `leg-${name}-complaint`}
      />
    </Field>
  );
}
