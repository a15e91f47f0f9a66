/** Over a brief that comes from this device: how old it is, so large that nobody takes it for a new one. */
import { durationWords } from '../../../worker/flight/words.ts';
import { datedText } from '../numbers.ts';
import { briefState, nowMs, readAddress } from '../state.ts';

export function KeptBand() {
  const state = briefState.value;
  if (state.kind !== 'kept') return null;
  return (
    <div class="kept-band" role="status">
      <p class="kept-age">Briefed {durationWords(nowMs.value - state.briefedMs)} ago</p>
      <p>
        Kept on this device since {datedText(state.briefedMs)}. The service is not reached: what has changed
        since is unknown.
      </p>
      <p>
        <button type="button" onClick={() => void readAddress()}>
          Brief again
        </button>
      </p>
    </div>
  );
}
