/** Over a brief that comes from this device: how old it is, so large that nobody takes it for a new one. */
import { durationWords } from '../../../worker/flight/words.ts';
import { briefAgain } from '../ask-leg.ts';
import { datedText } from '../numbers.ts';
import { briefState, lastBrief, nowMs } from '../state.ts';

export function KeptBand() {
  const last = lastBrief.value;
  if (last === undefined || !last.isKept || last.shared) return null;
  return (
    <div class="kept-band" role="status">
      <p class="kept-age">Briefed {durationWords(nowMs.value - last.briefedMs)} ago</p>
      <p class="kept-dated print-only">Kept brief of {datedText(last.briefedMs)}</p>
      <p>
        Kept on this device since {datedText(last.briefedMs)}. The service gives no answer: what has changed
        since is unknown.
      </p>
      {briefState.value.kind === 'kept' && (
        <p class="kept-again">
          <button type="button" onClick={briefAgain}>
            Brief again
          </button>
        </p>
      )}
    </div>
  );
}

/** At the foot of the screen all along: the band above is soon scrolled away. */
export function KeptBar() {
  const last = lastBrief.value;
  if (last === undefined || !last.isKept || last.shared || briefState.value.kind !== 'kept') return null;
  return (
    <p class="asking-bar kept-bar" aria-hidden="true">
      Kept on this device: briefed {datedText(last.briefedMs)}
    </p>
  );
}
