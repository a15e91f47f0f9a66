/** Legs briefed on this device: each opens again as it was asked for, or for the next time of day that it departs at. */
import { durationWords } from '../../../worker/flight/words.ts';
import { openLeg } from '../ask-leg.ts';
import { instantText } from '../numbers.ts';
import { withoutMeasured } from '../start/habits.ts';
import { nowMs } from '../state.ts';
import { inUnits } from '../units.ts';
import { legTextFromQuery } from '../url-state.ts';
import { forgetBriefs, type KeptBrief, keptBriefs } from './kept-briefs.ts';
import { nextSameTime } from './next-same-time.ts';

export function KeptBriefs() {
  const kept = keptBriefs.value;
  if (kept.length === 0) return null;
  return (
    <section class="kept" aria-labelledby="kept-title">
      <h2 id="kept-title">Briefed on this device</h2>
      <ul>
        {kept.map((one) => (
          <KeptLine key={one.query} kept={one} />
        ))}
      </ul>
      <p>
        <button type="button" onClick={() => void forgetBriefs()}>
          Forget them
        </button>
      </p>
    </section>
  );
}

function KeptLine({ kept }: { readonly kept: KeptBrief }) {
  const next = nextSameTime(kept.departureUtc, nowMs.value);
  return (
    <li>
      <button type="button" onClick={() => open(kept)}>
        <b>
          {kept.from} → {kept.to}, {instantText(kept.departureUtc)}
        </b>
        <span>{kept.aircraft}</span>
        <span>{inUnits(kept.sentence, kept.departureUtc)}</span>
        <span class="quiet">briefed {durationWords(nowMs.value - kept.briefedMs)} ago</span>
      </button>
      <button type="button" class="kept-next" onClick={() => open(kept, next)}>
        Again {instantText(next)}
      </button>
    </li>
  );
}

function open({ query }: KeptBrief, departure?: string): void {
  const text = legTextFromQuery(query);
  openLeg(departure === undefined ? text : { ...withoutMeasured(text), departure });
  window.scrollTo(0, 0);
}
