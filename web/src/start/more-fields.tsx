/** What most legs do not need to say. Open where something is said. */
import { useSignal } from '@preact/signals';
import type { LegParameter } from '../url-state.ts';
import { Field } from './field.tsx';
import type { LegFields, MoreField } from './leg-fields.ts';
import { MORE_FIELDS } from './leg-fields.ts';
import { type FormText, TextFields } from './text-field.tsx';

interface MoreFieldsProps {
  readonly fields: LegFields;
  readonly onChange: (change: Partial<LegFields>) => void;
  readonly complaintOf: (parameter: LegParameter) => string | undefined;
}

const TEXTS: readonly FormText[] = [
  { field: 'alternate', name: 'alternate', label: 'Alternate', hint: 'KPWM' },
  { field: 'crossing', name: 'crossing', label: 'Crossings at or above, ft', hint: 'KESTU:9000, 40:7000' },
  { field: 'hold', name: 'hold', label: 'Hold, min', hint: '30' },
  { field: 'later', name: 'later', label: 'Later departures, h', hint: '3' },
  { field: 'weight', name: 'weight', label: 'Take-off weight, kg', hint: 'of the aircraft’s figures' },
  {
    field: 'planned',
    name: 'planned',
    label: 'Early descent, vectors, approach, min',
    hint: 'early:5, vectors:10, approach:10',
  },
  { field: 'corridor', name: 'corridor', label: 'Corridor, NM to either side', hint: '10' },
  { field: 'altitudes', name: 'altitudes', label: 'Altitudes to consider, ft', hint: '7000, 9000, 11000' },
  { field: 'fixed', name: 'fixed', label: 'Keep to one altitude, ft', hint: 'none' },
];

const RULES: readonly {
  readonly name: MoreField;
  readonly label: string;
  /** What holds where nothing is said, by its name in the contract. */
  readonly standard: string;
  /** The standard first. */
  readonly rules: readonly (readonly [string, string])[];
}[] = [
  {
    name: 'direction',
    label: 'Levels by direction',
    standard: 'faa-91-179',
    rules: [
      ['', '14 CFR 91.179'],
      ['icao-annex-2', 'ICAO Annex 2'],
    ],
  },
  {
    name: 'oxygen',
    label: 'Oxygen',
    standard: 'faa-135-89',
    rules: [
      ['', '14 CFR 135.89'],
      ['faa-91-211', '14 CFR 91.211'],
    ],
  },
  {
    name: 'air',
    label: 'Air of the clouds',
    standard: 'continental',
    rules: [
      ['', 'continental'],
      ['maritime', 'maritime'],
    ],
  },
];

export function MoreFields({ fields, onChange, complaintOf }: MoreFieldsProps) {
  const isOpen = useSignal(MORE_FIELDS.some((name) => fields[name] !== ''));
  const isRefused = MORE_FIELDS.some((name) => complaintOf(name) !== undefined);
  return (
    <details
      class="more-fields"
      open={isOpen.value || isRefused}
      onToggle={(event) => (isOpen.value = event.currentTarget.open)}
    >
      <summary>More: alternate, hold, crossings, weight, altitudes, rules, other routes</summary>
      <div class="leg-fields">
        <TextFields texts={TEXTS} fields={fields} onChange={onChange} complaintOf={complaintOf} />
        {RULES.map(({ name, label, standard, rules }) => (
          <Field key={name} name={name} label={label} complaint={complaintOf(name)}>
            <select
              id={`leg-${name}`}
              name={name}
              value={fields[name] === standard ? '' : fields[name]}
              onChange={(event) => onChange({ [name]: event.currentTarget.value })}
            >
              {rules.map(([rule, words]) => (
                <option key={rule} value={rule}>
                  {words}
                </option>
              ))}
            </select>
          </Field>
        ))}
        <Field name="routes" label="Other routes to compare, one a line" complaint={complaintOf('routes')}>
          <textarea
            id="leg-routes"
            name="routes"
            rows={2}
            spellcheck={false}
            placeholder="KBTV DCT 4500N07100W DCT KBGR"
            value={fields.routes}
            onInput={(event) => onChange({ routes: event.currentTarget.value })}
            aria-invalid={complaintOf('routes') !== undefined}
          />
        </Field>
      </div>
    </details>
  );
}
