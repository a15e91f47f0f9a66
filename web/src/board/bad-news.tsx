/** Which legs went bad since this device last looked, and why. */
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { inUnits } from '../units.ts';
import { VERDICT_WORDS } from '../words.ts';
import { lookAt, lookAtAll } from './acts.ts';
import { badNews, isFirstLook, unreadIds } from './store.ts';
import { openBeside } from './view-address.ts';

const MOST_LINES = 4;

export function BadNews() {
  const bad = badNews.value;
  const unread = unreadIds.value.size;
  if (bad.length === 0)
    return (
      <section class="bad-news bad-news-none" aria-labelledby="bad-news-title">
        <h2 id="bad-news-title">
          {isFirstLook.value && unread === 0
            ? 'First look on this device: what changes from now on is marked'
            : 'No leg got worse since you last looked'}
        </h2>
        {unread > 0 && (
          <p>
            {unread} changed otherwise. <LookedAtAll />
          </p>
        )}
      </section>
    );
  return (
    <section class="bad-news bad-news-some" aria-labelledby="bad-news-title">
      <div class="bad-news-head">
        <h2 id="bad-news-title">
          {bad.length === 1 ? '1 leg got worse' : `${bad.length} legs got worse`} since you last looked
        </h2>
        <LookedAtAll />
      </div>
      <ul>
        {bad.slice(0, MOST_LINES).map((flight) => (
          <li key={flight.id}>
            <button
              type="button"
              onClick={() => {
                lookAt(flight);
                openBeside({ kind: 'leg', id: flight.id });
              }}
            >
              <VerdictShape code={flight.verdict} sizePx={22} />
              <b>
                {flight.label} {flight.from} → {flight.to}
              </b>
              <span class="bad-news-word">{VERDICT_WORDS[flight.verdict]}</span>
              <span class="bad-news-why">{inUnits(flight.why, flight.departureUtc)}</span>
            </button>
          </li>
        ))}
      </ul>
      {bad.length > MOST_LINES && <p>and {bad.length - MOST_LINES} more, marked in the list.</p>}
    </section>
  );
}

function LookedAtAll() {
  return (
    <button type="button" onClick={lookAtAll}>
      I have looked at all
    </button>
  );
}
