/** What was reported and warned of on the leg, the most serious first, with its age. */
import type { Brief } from '../contract.ts';
import { type Hazard, hazardsOf } from '../hazards.ts';
import { offWords } from '../off-words.ts';
import { hasNotes, noteViews } from '../pilot-notes/load-views.ts';
import { nowMs } from '../state.ts';
import { heightWords } from './height-words.ts';
import { ageWords } from './report-ages.ts';

type Properties = Hazard['properties'];

export function Reports({ brief }: { readonly brief: Brief }) {
  const found = hazardsOf(brief);
  if (found.length === 0 && !hasNotes(brief)) return null;
  const views = noteViews(brief);
  const departureMs = Date.parse(brief.brief.leg.departureUtc);
  return (
    <section class="data reports" aria-labelledby="reports-title">
      <h2 id="reports-title">Reports and warnings</h2>
      <ul class="sources">
        {found.map(({ id, geometry, properties }) => (
          <li key={id} data-severity={properties.severity}>
            <p>
              <b>{properties.sentence}</b>
            </p>
            <p class="source-use">
              {ageWords(properties, departureMs, nowMs.value)}
              <span class="quiet"> {whereWords(properties)}</span>
              {geometry === null && <span class="source-lacks">place unknown: counts where it may be</span>}
            </p>
          </li>
        ))}
      </ul>
      {views ? (
        <views.NoteList brief={brief} />
      ) : (
        hasNotes(brief) && <p>Further pilot reports are not shown yet.</p>
      )}
    </section>
  );
}

/** "(30 to 60 NM, below 8,000 ft)", of a report with its distance: "(12 NM off; 30 to 60 NM, below 8,000 ft)". */
function whereWords(properties: Properties): string {
  const { fromNm, toNm, lowerFt, upperFt } = properties;
  const off = properties.kind === 'report' ? offWords(properties.fromRouteNm) : '';
  const holds = `${Math.round(fromNm)} to ${Math.round(toNm)} NM, ${heightWords(lowerFt, upperFt)}`;
  return `(${off === '' ? '' : `${off}; `}${holds})`;
}
