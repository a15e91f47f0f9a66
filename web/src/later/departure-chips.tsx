/** Later departures where there is no room for their columns: one chip each, below the answer. */
import { VerdictShape } from '../answer/verdict-shape.tsx';
import type { BriefMember } from '../contract.ts';
import { clockText, zoneWord } from '../units.ts';
import { VERDICT_WORDS } from '../words.ts';
import { openDeparture } from './departures-panel.tsx';
import { laterBy, recommendedText } from './later-words.ts';

export function DepartureChips({ brief: { departures, leg } }: { readonly brief: BriefMember }) {
  if (departures.length === 0) return null;
  return (
    <section class="later-chips" aria-labelledby="later-title">
      <h2 id="later-title">Leaving later</h2>
      <ul>
        {departures.map((departure) => {
          const { departureUtc, verdict, lacks } = departure;
          const recommended = recommendedText(departure);
          return (
            <li key={departureUtc}>
              <button type="button" title={verdict.sentence} onClick={() => openDeparture(departureUtc)}>
                <VerdictShape code={verdict.code} sizePx={22} />
                <span>
                  <b>{laterBy(departureUtc, leg.departureUtc)}</b> {clockText(departureUtc)} {zoneWord()}
                  <br />
                  {recommended === undefined ? VERDICT_WORDS[verdict.code] : `file ${recommended} ft`}
                  <span class="for-ears">
                    {recommended !== undefined && `, ${VERDICT_WORDS[verdict.code]}`}
                  </span>
                  {lacks.length > 0 && <span class="source-lacks">data incomplete</span>}
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
