/** While the brief of another leg is worked out the one before it stays: this says so, over the page and in nobody's way. */

import { askingWords } from './start/state-message.tsx';
import { briefState, leadingBrief, legText } from './state.ts';

export function AskingBar() {
  if (briefState.value.kind !== 'loading' || leadingBrief.value === undefined) return null;
  const { leg } = leadingBrief.value.brief;
  return (
    <p class="asking-bar" role="status">
      {askingWords(legText.value.route)} What is shown is the brief before it, {leg.from} → {leg.to}.
    </p>
  );
}
