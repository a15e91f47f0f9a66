/** The legs as a list that can be searched; to be changed where the link allows it. */
import { useState } from 'preact/hooks';
import type { StoredLeg } from '../../../../worker/schema/board.ts';
import { LabelledInput } from '../../labelled-input.tsx';
import { legMatches, periodWords, weekdaysWords } from './leg-words.ts';
import { SureButton } from './sure-button.tsx';

/** More than these are found by searching. */
const MOST_SHOWN = 100;

interface Changing {
  readonly onEdit?: (id: string) => void;
  readonly onRemove?: (id: string, name: string) => void;
}

export function LegList({ legs, ...changing }: Changing & { readonly legs: readonly StoredLeg[] }) {
  const [sought, setSought] = useState('');
  if (legs.length === 0) return null;
  const found = legs.filter(({ leg }) => legMatches(leg, sought));
  return (
    <>
      {legs.length > 8 && (
        <LabelledInput
          id="setup-sought"
          label="Find a leg"
          hint="flight, tail or place"
          value={sought}
          onText={setSought}
        />
      )}
      <ul class="setup-legs">
        {found.slice(0, MOST_SHOWN).map((stored) => (
          <LegRow key={stored.id} stored={stored} {...changing} />
        ))}
      </ul>
      {found.length === 0 && <p>No leg has “{sought}”.</p>}
      {found.length > MOST_SHOWN && (
        <p class="quiet">{found.length - MOST_SHOWN} more: search for the one you want.</p>
      )}
    </>
  );
}

function LegRow({ stored, onEdit, onRemove }: Changing & { readonly stored: StoredLeg }) {
  const { id, leg } = stored;
  const period = periodWords(leg);
  return (
    <li>
      <b class="setup-leg-label">{leg.label}</b>
      <span>{leg.tail ?? 'no tail'}</span>
      <span class="setup-leg-route">{leg.route}</span>
      <span>
        {weekdaysWords(leg.weekdays)} {leg.departureLocal}
        {leg.timeZone !== null && ` ${leg.timeZone}`}
        {period !== '' && `, ${period}`}
      </span>
      {onEdit && onRemove && (
        <span class="setup-leg-buttons">
          <button type="button" aria-label={`Change ${leg.label}`} onClick={() => onEdit(id)}>
            Change
          </button>
          <SureButton
            label="Remove"
            question={`Remove ${leg.label} and its flights that have not departed?`}
            answer="Remove it"
            onSure={() => onRemove(id, leg.label)}
          />
        </span>
      )}
    </li>
  );
}
