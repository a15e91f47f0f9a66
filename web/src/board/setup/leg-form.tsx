/** One leg of the schedule as a form: added, or changed. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ScheduleLeg, StoredLeg } from '../../../../worker/schema/board.ts';
import { ChoiceFields } from './choice-fields.tsx';
import { DraftInput, type DraftText } from './draft-input.tsx';
import { type DraftFault, draftOf, EMPTY_DRAFT, type LegDraft, legOfDraft } from './leg-draft.ts';
import type { KnownAircraft } from './use-aircraft.ts';

interface LegFormProps {
  /** undefined for a new one. */
  readonly stored: StoredLeg | undefined;
  readonly aircraft: readonly KnownAircraft[];
  readonly timeZone: string;
  readonly isBusy: boolean;
  readonly onSave: (leg: ScheduleLeg) => void;
  readonly onClose: () => void;
}

const FLIGHT: readonly DraftText[] = [
  { field: 'label', label: 'Flight number or call sign', hint: 'EXAMPLE 101' },
  { field: 'tail', label: 'Tail', hint: 'none planned' },
  { field: 'route', label: 'Route', hint: 'KBTV DCT KBGR', isWide: true },
];
const TIMES: readonly DraftText[] = [
  { field: 'departureLocal', label: 'Off block, local time', hint: '05:40' },
  { field: 'timeZone', label: 'Time zone', hint: '' },
  { field: 'plannedMinutes', label: 'Planned minutes, block to block', hint: '75', isNumber: true },
  { field: 'fromDate', label: 'First day', hint: 'no end', type: 'date' },
  { field: 'untilDate', label: 'Last day', hint: 'no end', type: 'date' },
];
const LIMITS: readonly DraftText[] = [
  { field: 'destinationCeilingFt', label: 'Destination ceiling, ft', hint: 'none needed', isNumber: true },
  { field: 'destinationVisibilityM', label: 'Destination visibility, m', hint: '1200', isNumber: true },
  { field: 'alternate', label: 'Alternate', hint: 'none' },
  { field: 'alternateCeilingFt', label: 'Alternate ceiling, ft', hint: 'none needed', isNumber: true },
  { field: 'alternateVisibilityM', label: 'Alternate visibility, m', hint: '3200', isNumber: true },
  { field: 'minimumAltitudes', label: 'Minimum altitudes, ft', hint: '0-45:6500, 45-130:6200', isWide: true },
];

export function LegForm({ stored, aircraft, timeZone, isBusy, onSave, onClose }: LegFormProps) {
  const form = useRef<HTMLFormElement>(null);
  const [typed, setDraft] = useState<LegDraft>(stored === undefined ? EMPTY_DRAFT : draftOf(stored.leg));
  const [faults, setFaults] = useState<readonly DraftFault[]>([]);
  // A new leg is of the first aircraft of the list until another is chosen.
  const draft = typed.aircraft === '' ? { ...typed, aircraft: aircraft[0]?.id ?? '' } : typed;
  const change = (part: Partial<LegDraft>) => setDraft({ ...draft, ...part });
  useEffect(() => form.current?.querySelector('input')?.focus(), []);
  useEffect(() => {
    if (faults.length > 0) form.current?.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus();
  }, [faults]);
  const save = (event: Event) => {
    event.preventDefault();
    const reading = legOfDraft(draft, stored?.leg);
    setFaults(reading.kind === 'leg' ? [] : reading.faults);
    if (reading.kind === 'leg') onSave(reading.leg);
  };
  const inputs = (texts: readonly DraftText[]) =>
    texts.map((text) => (
      <DraftInput
        key={text.field}
        text={text.field === 'timeZone' ? { ...text, hint: timeZone } : text}
        value={draft[text.field]}
        fault={faults.find(({ field }) => field === text.field)}
        onText={(value) => change({ [text.field]: value })}
      />
    ));
  return (
    <form class="setup-form" ref={form} noValidate onSubmit={save} aria-labelledby="setup-form-title">
      <h3 id="setup-form-title">{stored === undefined ? 'A new leg' : `Change ${stored.leg.label}`}</h3>
      <div class="setup-fields">{inputs(FLIGHT)}</div>
      <ChoiceFields draft={draft} stored={stored} aircraft={aircraft} faults={faults} onChange={change} />
      <div class="setup-fields">{inputs(TIMES)}</div>
      <div class="setup-fields">{inputs(LIMITS)}</div>
      <p class="setup-buttons">
        <button type="submit" class="setup-main" disabled={isBusy}>
          {stored === undefined ? 'Add it' : 'Save the change'}
        </button>
        <button type="button" onClick={onClose}>
          Leave it
        </button>
      </p>
    </form>
  );
}
