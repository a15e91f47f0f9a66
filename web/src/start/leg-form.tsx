/** Entering a leg: one form, every field with its unit and an example. */
import { useSignal, useSignalEffect } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { openLeg, typeLeg } from '../ask-leg.ts';
import {
  aircraftState,
  type BriefState,
  briefState,
  legReading,
  legText,
  nowMs,
  openedLeg,
} from '../state.ts';
import { units, unitText, zoneWord } from '../units.ts';
import { type LegParameter, type LegText, parameterOfPath, readLegText } from '../url-state.ts';
import { usePause } from '../use-pause.ts';
import { AircraftField, AircraftFigures } from './aircraft-field.tsx';
import { keepHabits, withHabits } from './habits.ts';
import { fieldsInUnits, isWholeRoute, type LegFields, legFields, legTextFromFields } from './leg-fields.ts';
import { MapFold } from './map-fold.tsx';
import { MoreFields } from './more-fields.tsx';
import { RouteField } from './route-field.tsx';
import { type FormText, TextFields } from './text-field.tsx';

interface Complaint {
  readonly parameter: LegParameter;
  readonly sentence: string;
}

/** Somebody who types on does not want an answer to half of it. */
const ASK_AFTER_TYPING_MS = 500;

const whenTexts = (): readonly FormText[] => [
  { field: 'date', name: 'departure', label: `Departure date, ${zoneWord()}`, hint: '2026-01-14' },
  { field: 'time', name: 'time', label: `Time, ${zoneWord()}`, hint: '11:30' },
];

const howTexts = (): readonly FormText[] => [
  {
    field: 'fluid',
    name: 'fluid',
    label: `Fluid on board, ${unitText('L')}`,
    hint: 'not given',
    isNumber: true,
  },
  { field: 'minimum', name: 'minimum', label: 'Minimum altitude, ft', hint: 'from ground heights' },
  {
    field: 'setting',
    name: 'setting',
    label: 'Altimeter setting, hPa or inHg',
    hint: '1013.25, standard',
  },
];

/** @returns  What cannot be read of it; of a route, which is wrong until it is whole, nothing is said. */
function askTyped(text: LegText): Complaint | undefined {
  const reading = readLegText(text);
  if (reading.kind === 'invalid') return reading.parameter === 'route' ? undefined : reading;
  if (!isWholeRoute(text.route ?? '') || reading.kind !== 'request') return undefined;
  keepHabits(text);
  typeLeg(text);
  return undefined;
}

export function LegForm() {
  const fields = useSignal<LegFields>(legFields(legText.peek(), nowMs.peek()));
  const complaint = useSignal<Complaint | undefined>(complaintOf(briefState.peek()));
  const choices = useSignal(0);
  const shownIn = useRef(units.peek());
  const pause = usePause();
  useSignalEffect(() => {
    const { text, by } = openedLeg.value;
    if (by === 'typed') return;
    pause.drop();
    fields.value = legFields(withHabits(text), nowMs.peek());
    choices.value = choices.peek() + 1;
  });
  useSignalEffect(() => {
    const now = units.value;
    if (shownIn.current !== now) fields.value = fieldsInUnits(fields.peek(), shownIn.current, now);
    shownIn.current = now;
  });
  useSignalEffect(() => {
    complaint.value = complaintOf(briefState.value);
  });
  const textNow = () => legTextFromFields(fields.peek(), legText.peek(), defaultAircraft());
  /** Briefed when the form is sent: half a figure of an aircraft would be flown. */
  const edit = (aircraft: string) => {
    pause.drop();
    fields.value = { ...fields.peek(), aircraft };
  };
  const set = (change: Partial<LegFields>) => {
    fields.value = { ...fields.peek(), ...change };
    pause.after(ASK_AFTER_TYPING_MS, () => (complaint.value = askTyped(textNow())));
  };
  const chooseAircraft = (aircraft: string) => {
    choices.value += 1;
    set({ aircraft });
  };
  const submit = (event: Event) => {
    event.preventDefault();
    pause.drop();
    const text = textNow();
    const reading = readLegText(text);
    complaint.value = reading.kind === 'invalid' ? reading : undefined;
    if (reading.kind === 'request') {
      keepHabits(text);
      openLeg(text);
    } else if (reading.kind === 'invalid') focusField(event.currentTarget, reading.parameter);
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
      <TextFields texts={whenTexts()} fields={fields.value} onChange={set} complaintOf={against} />
      <AircraftField
        value={fields.value.aircraft}
        onChoose={chooseAircraft}
        complaint={against('aircraft')}
      />
      <TextFields texts={howTexts()} fields={fields.value} onChange={set} complaintOf={against} />
      <MapFold onRoute={(route) => set({ route })} />
      <AircraftFigures
        key={choices.value}
        value={fields.value.aircraft}
        onValue={edit}
        onChoose={chooseAircraft}
      />
      <MoreFields fields={fields.value} onChange={set} complaintOf={against} />
      <p class="leg-submit">
        <button type="submit">Brief this leg</button>
      </p>
    </form>
  );
}

/** From the address itself, or from the service. */
function complaintOf(state: BriefState): Complaint | undefined {
  if (legReading.value.kind === 'invalid') return legReading.value;
  if (state.kind !== 'problem' || state.problem.field === undefined) return undefined;
  const { field, detail } = state.problem;
  return { parameter: parameterOfPath(field.split('.'), legText.peek()), sentence: detail };
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
