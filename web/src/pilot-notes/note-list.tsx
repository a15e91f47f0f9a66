/** Every note of a pilot in words, with its age and distance, the newest first. */
import { type Brief, featuresOf } from '../contract.ts';
import { ageWords } from '../data/report-ages.ts';
import { offWords } from '../off-words.ts';
import { nowMs } from '../state.ts';
import { type PilotNote, saidWords } from './note-words.ts';

/** More than these are folded. */
const SHOWN = 6;

export function NoteList({ brief }: { readonly brief: Brief }) {
  const departureMs = Date.parse(brief.brief.leg.departureUtc);
  const notes = featuresOf(brief, 'pilot-note');
  const told = notes.filter(({ properties }) => properties.reportKind !== null);
  const notices = notes.filter(({ properties }) => properties.reportKind === null);
  const rest = told.slice(SHOWN);
  return (
    <div class="note-list">
      <h3>Said by pilots beside ice (N in the pictures)</h3>
      <p>
        Nothing above follows from these: a report of no ice lowers nothing, anywhere. The cross-section shows
        those that it has room for.
      </p>
      <ul class="sources">
        {told.slice(0, SHOWN).map((note) => (
          <Note key={note.id} note={note} departureMs={departureMs} />
        ))}
      </ul>
      {rest.length > 0 && (
        <details>
          <summary>{rest.length} more</summary>
          <ul class="sources">
            {rest.map((note) => (
              <Note key={note.id} note={note} departureMs={departureMs} />
            ))}
          </ul>
        </details>
      )}
      {notices.map(({ id, properties }) => (
        <p key={id}>{properties.sentence}.</p>
      ))}
    </div>
  );
}

function Note({ note, departureMs }: { readonly note: PilotNote; readonly departureMs: number }) {
  const { properties, geometry } = note;
  return (
    <li data-feature-id={note.id}>
      <p>Pilot report: {saidWords(properties)}</p>
      <p class="source-use">
        {ageWords(properties, departureMs, nowMs.value)}
        {geometry === null ? (
          <span class="source-lacks">place not known</span>
        ) : (
          <span class="quiet"> ({placeWords(properties)})</span>
        )}
      </p>
    </li>
  );
}

/** "12 NM off at 43 NM", "on the route from 20 to 60 NM". */
function placeWords({ fromRouteNm, fromNm, toNm }: PilotNote['properties']): string {
  const [from, to] = [Math.round(fromNm), Math.round(toNm)];
  return `${offWords(fromRouteNm)} ${from === to ? `at ${from}` : `from ${from} to ${to}`} NM`;
}
