/** The considered altitude and the values at the cursor, as text that a screen reader follows. */
import { useEffect, useState } from 'preact/hooks';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import type { Brief, Candidate } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { consideredFt, cursorNm } from '../state.ts';
import { STANDING_WORDS, VERDICT_WORDS } from '../words.ts';
import { candidateAt, type Readout, readoutAt, readoutSentence } from './values.ts';

const SPEAK_AFTER_MS = 350;

export function ReadoutPanel({ brief }: { readonly brief: Brief }) {
  const readout = readoutAt(brief, cursorNm.value, consideredFt.value);
  const candidate = candidateAt(brief.brief.alternatives, consideredFt.value);
  const spoken = useSettled(readoutSentence(readout));
  return (
    <section class="readout" aria-labelledby="readout-title">
      <h2 id="readout-title">At {feetText(consideredFt.value)} ft</h2>
      {candidate && <CandidateWords candidate={candidate} />}
      <CellValues readout={readout} />
      <p class="for-ears" aria-live="polite" data-testid="spoken">
        {spoken}
      </p>
    </section>
  );
}

function CandidateWords({ candidate }: { readonly candidate: Candidate }) {
  return (
    <div class="considered">
      <p class="considered-verdict">
        {candidate.exposure !== null && <VerdictShape code={candidate.verdict} sizePx={18} />}
        <span>
          <strong>{headWord(candidate)}</strong>
          {candidate.standing === 'recommended' && ', recommended'}
          {candidate.direction === 'ask' && candidate.exposure !== null && ', wrong-way level: ask for it'}
        </span>
      </p>
      {candidate.reasons.map((reason) => (
        <p key={reason.code} class="considered-reason">
          {reason.sentence}
        </p>
      ))}
    </div>
  );
}

function CellValues({ readout }: { readonly readout: Readout }) {
  if (readout.kind === 'no-cells') return <p>{readoutSentence(readout)}</p>;
  if (readout.kind === 'unknown') {
    return (
      <>
        <p class="readout-place">{readout.place}</p>
        <p class="readout-unknown">
          <span>{readout.words}</span>
        </p>
      </>
    );
  }
  return (
    <>
      <p class="readout-place">
        {readout.place}: <strong>{readout.headline}</strong>
      </p>
      <dl class="readout-values">
        {readout.values.map(({ label, text }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}

/** An altitude that cannot be flown has no verdict, only the reason why not. */
function headWord({ exposure, standing, verdict }: Candidate): string {
  return exposure === null ? STANDING_WORDS[standing] : VERDICT_WORDS[verdict];
}

/** The text once it has stopped changing, so that dragging does not chatter. */
function useSettled(text: string): string {
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(text), SPEAK_AFTER_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return settled;
}
