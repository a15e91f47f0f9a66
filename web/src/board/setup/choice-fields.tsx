/** What is chosen of a leg, not typed: its weekdays and its aircraft. */
import { type StoredLeg, WEEKDAYS } from '../../../../worker/schema/board.ts';
import { Fault } from './draft-input.tsx';
import type { DraftFault, LegDraft } from './leg-draft.ts';
import { WEEKDAY_WORDS } from './leg-words.ts';
import type { KnownAircraft } from './use-aircraft.ts';

interface ChoiceFieldsProps {
  readonly draft: LegDraft;
  readonly stored: StoredLeg | undefined;
  readonly aircraft: readonly KnownAircraft[];
  readonly faults: readonly DraftFault[];
  readonly onChange: (part: Partial<LegDraft>) => void;
}

export function ChoiceFields(props: ChoiceFieldsProps) {
  return (
    <div class="setup-choices">
      <WeekdayFields {...props} />
      <AircraftField {...props} />
    </div>
  );
}

function WeekdayFields({ draft, faults, onChange }: ChoiceFieldsProps) {
  const fault = faults.find(({ field }) => field === 'weekdays');
  return (
    <fieldset
      class="setup-days"
      aria-invalid={fault !== undefined}
      aria-describedby={fault ? 'setup-weekdays-fault' : undefined}
    >
      <legend>Weekdays</legend>
      {WEEKDAYS.map((day) => {
        const isOn = draft.weekdays.includes(day);
        const others = WEEKDAYS.filter((one) => (one === day ? !isOn : draft.weekdays.includes(one)));
        return (
          <button key={day} type="button" aria-pressed={isOn} onClick={() => onChange({ weekdays: others })}>
            {WEEKDAY_WORDS[day]}
          </button>
        );
      })}
      <Fault id="setup-weekdays-fault" fault={fault} />
    </fieldset>
  );
}

function AircraftField({ draft, stored, aircraft, faults, onChange }: ChoiceFieldsProps) {
  const fault = faults.find(({ field }) => field === 'aircraft');
  const own = typeof stored?.leg.aircraft === 'object' ? stored.leg.aircraft : undefined;
  const { aircraft: chosen } = draft;
  const isListed = chosen === undefined || chosen === '' || aircraft.some(({ id }) => id === chosen);
  return (
    <p class="setup-field">
      <label for="setup-aircraft">Aircraft</label>
      <select
        id="setup-aircraft"
        value={chosen ?? OWN}
        aria-invalid={fault !== undefined}
        aria-describedby={fault ? 'setup-aircraft-fault' : undefined}
        onChange={({ currentTarget: { value } }) => onChange({ aircraft: value === OWN ? undefined : value })}
      >
        {own !== undefined && <option value={OWN}>{own.name}, figures of this leg</option>}
        {aircraft.length === 0 && chosen === '' && <option value="">list not reached</option>}
        {!isListed && <option value={chosen}>{chosen}</option>}
        {aircraft.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
      <Fault id="setup-aircraft-fault" fault={fault} />
    </p>
  );
}

/** No profile can be named so. */
const OWN = '{}';
