/** Over a shared brief: when it was made, that it does not change, and what has changed since. */
import { durationWords } from '../../../worker/flight/words.ts';
import { isInvented } from '../answer/age-line.ts';
import { openLeg } from '../ask-leg.ts';
import type { Brief } from '../contract.ts';
import { datedText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { legTextFromRequest } from '../url-state.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { changesSince } from './changes-since.ts';
import { briefedNow, sharedAbout } from './shared-state.ts';

export function SharedBand({ brief }: { readonly brief: Brief }) {
  const about = sharedAbout.value;
  if (about === undefined) return null;
  const createdMs = Date.parse(about.createdUtc);
  return (
    <div class="kept-band shared-band" role="status">
      <p class="kept-age">Shared {agoWords(nowMs.value - createdMs)}</p>
      <div>
        <Since brief={brief} />
        <p class="quiet">
          As it was at {datedText(createdMs)}: it never changes. Open until {datedText(about.expiresUtc)}.
        </p>
      </div>
      <p class="kept-again">
        <button type="button" onClick={() => openLeg(legTextFromRequest(about.request))}>
          Brief the leg now
        </button>
      </p>
    </div>
  );
}

const agoWords = (ageMs: number) => (ageMs < 60_000 ? 'just now' : `${durationWords(ageMs)} ago`);

function Since({ brief }: { readonly brief: Brief }) {
  const now = briefedNow.value;
  if (now === undefined) return <p>Asking what has changed since</p>;
  if (now.kind !== 'ok')
    return (
      <p class="readout-unknown">
        <span>What has changed since is {UNKNOWN_WORD}: the leg could not be briefed now</span>
      </p>
    );
  const { hasNewData, lines } = changesSince(brief.brief, now.value.brief);
  if (lines.length === 0)
    return (
      <p>
        {hasNewData
          ? 'Newer data say the same of altitude, verdict and ice.'
          : `No newer data since${isInvented(brief.brief) ? ', the scenario is invented' : ''}.`}
      </p>
    );
  return (
    <>
      <p>
        <strong>Changed since:</strong>
      </p>
      <ul class="shared-changes">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}
