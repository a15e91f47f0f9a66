/** Over a shared brief: when it was made, that it does not change, and what has changed since. */
import { useMemo } from 'preact/hooks';
import { durationWords } from '../../../worker/flight/words.ts';
import type { Brief } from '../contract.ts';
import { datedText } from '../numbers.ts';
import { lastBrief, nowMs } from '../state.ts';
import { answerInUnits } from '../units.ts';
import type { LegText } from '../url-state.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { changesSince } from './changes-since.ts';
import { legTextOfShared } from './of-sender.ts';
import { briefedNow, NOW_HOLDS_MS } from './shared-state.ts';

/** It goes with its brief: what is shown meanwhile of another address is still the shared one. */
export function SharedBand({ onBriefNow }: { readonly onBriefNow: (leg: LegText) => void }) {
  const last = lastBrief.value;
  if (last?.shared === undefined) return null;
  const { createdUtc, expiresUtc, request } = last.shared;
  const createdMs = Date.parse(createdUtc);
  return (
    <div class="kept-band shared-band" role="status">
      <p class="kept-age">Shared {agoWords(nowMs.value - createdMs)}</p>
      <div>
        {last.isKept && (
          <p>
            Kept on this device: the service gives no answer, so whether it was taken back is {UNKNOWN_WORD}.
          </p>
        )}
        {request === null ? (
          <p class="readout-unknown">
            <span>
              What has changed since is {UNKNOWN_WORD}: this service does not take what was asked then any
              more
            </span>
          </p>
        ) : (
          <Since then={last.brief} />
        )}
        <p class="quiet">
          As it was at {datedText(createdMs)}: it never changes. Open until {datedText(expiresUtc)}.
        </p>
      </div>
      {request !== null && (
        <p class="kept-again">
          <button type="button" onClick={() => onBriefNow(legTextOfShared(request))}>
            Brief the leg now
          </button>
        </p>
      )}
    </div>
  );
}

/** At the foot of the screen all along: the band above is soon scrolled away. */
export function SharedBar() {
  const last = lastBrief.value;
  if (last?.shared === undefined) return null;
  return (
    <p class="asking-bar kept-bar" aria-hidden="true">
      Shared brief as it was at {datedText(last.briefedMs)}
    </p>
  );
}

const agoWords = (ageMs: number) => (ageMs < 60_000 ? 'just now' : `${durationWords(ageMs)} ago`);

function Since({ then }: { readonly then: Brief }) {
  const now = briefedNow.value;
  if (now === undefined || now.shared !== lastBrief.value?.shared)
    return <p>Asking what has changed since</p>;
  const { answer, askedMs } = now;
  if (answer.kind !== 'ok' || nowMs.value - askedMs > 2 * NOW_HOLDS_MS)
    return (
      <p class="readout-unknown">
        <span>
          What has changed since is {UNKNOWN_WORD}: the leg could not be briefed at {datedText(askedMs)}
          {answer.kind === 'ok' ? ' or later' : ''}
        </span>
      </p>
    );
  return <Changes then={then} now={answer.value} at={datedText(askedMs)} />;
}

function Changes({ then, now, at }: { readonly then: Brief; readonly now: Brief; readonly at: string }) {
  const { isOther, lines } = useMemo(() => {
    const inUnits = (brief: Brief) => answerInUnits(brief, then.brief.leg.departureUtc);
    return changesSince(inUnits(then), inUnits(now));
  }, [then, now]);
  if (lines.length === 0)
    return (
      <p>
        {isOther
          ? `Briefed at ${at} altitude, verdict and ice are the same, other data or details are not.`
          : `Briefed at ${at} it says the same.`}
      </p>
    );
  return (
    <>
      <p>
        <strong>Changed since, as of {at}:</strong>
      </p>
      <ul class="shared-changes">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}
