/** Before take-off: what to have on for this leg, each to be ticked with a thumb. */
import { useSignal } from '@preact/signals';
import { bestCandidateOf, levelsText } from '../considered.ts';
import type { BriefMember } from '../contract.ts';
import { VerdictLine } from './cue-card.tsx';

/** Lasts as long as the leg is open: nobody ticks for another flight. */
export function Checklist({ brief }: { readonly brief: BriefMember }) {
  const ticked = useSignal<ReadonlySet<string>>(new Set());
  const best = bestCandidateOf(brief);
  // A line that says something else now is not ticked by what it said before.
  const toggle = (sentence: string) => {
    const next = new Set(ticked.value);
    if (!next.delete(sentence)) next.add(sentence);
    ticked.value = next;
  };
  return (
    <section class="flight-card checklist" aria-labelledby="checklist-title">
      <h2 id="checklist-title">Before take-off{best === undefined ? '' : `, for ${levelsText(best)} ft`}</h2>
      {best !== undefined && <VerdictLine candidate={best} />}
      <ul>
        {brief.beforeTakeOff.map(({ code, sentence }) => (
          <li key={code}>
            <label>
              <input type="checkbox" checked={ticked.value.has(sentence)} onChange={() => toggle(sentence)} />
              <span>{sentence}</span>
            </label>
          </li>
        ))}
      </ul>
    </section>
  );
}
