/** What was reported and warned of on the leg, the most serious first, with its age. */
import { ageAt } from '../age.ts';
import type { Brief } from '../contract.ts';
import { type Hazard, hazardsOf } from '../hazards.ts';
import { instantText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { heightWords } from './height-words.ts';

type Properties = Hazard['properties'];

export function Reports({ brief }: { readonly brief: Brief }) {
  const found = hazardsOf(brief);
  if (found.length === 0) return null;
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
    </section>
  );
}

function ageWords({ issuedUtc }: Properties, departureMs: number, atMs: number): string {
  const issuedMs = Date.parse(issuedUtc);
  const atDeparture = ageAt(issuedMs, departureMs, 'at departure');
  const now = ageAt(issuedMs, atMs, 'now');
  return `${instantText(issuedUtc)}: ${departureMs < atMs ? `${now}, ${atDeparture}` : now}`;
}

/** "(30 to 60 NM, below 8,000 ft)". */
function whereWords({ fromNm, toNm, lowerFt, upperFt }: Properties): string {
  return `(${Math.round(fromNm)} to ${Math.round(toNm)} NM, ${heightWords(lowerFt, upperFt)})`;
}
