/**
 * While the brief of another leg is worked out, or cannot be had for another time, the one before it stays: this says so, over the
 * page and in nobody's way.
 */
import { instantText } from './numbers.ts';
import { askingWords, refusalWords } from './start/state-message.tsx';
import { briefState, leadingBrief, legText } from './state.ts';

export function AskingBar() {
  const state = briefState.value;
  if (state.kind === 'ok' || state.kind === 'kept' || leadingBrief.value === undefined) return null;
  const { leg } = leadingBrief.value.brief;
  const isAsking = state.kind === 'loading';
  return (
    <p class={`asking-bar${isAsking ? '' : ' asking-bar-refused'}`} role={isAsking ? 'status' : 'alert'}>
      {isAsking
        ? askingWords(legText.value.route)
        : `Not briefed as asked for: ${refusalWords(state)?.title ?? ''}.`}{' '}
      What is shown is the brief before it, {leg.from} → {leg.to}, {instantText(leg.departureUtc)}.
    </p>
  );
}
