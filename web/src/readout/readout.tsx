/** The considered altitude and the values at the cursor, as text that a screen reader follows. */
import { useEffect, useState } from 'preact/hooks';
import { legAircraft } from '../aircraft-of-leg.ts';
import { REASONS_SHOWN } from '../answer/answer.tsx';
import { failureWords } from '../answer/failure-words.ts';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { isBest, levelAtFt, levelsText } from '../considered.ts';
import type { Brief, BriefMember, Candidate, Reason } from '../contract.ts';
import { UNKNOWN_TEXT } from '../known-amounts.ts';
import { feetText } from '../numbers.ts';
import { followingCandidate, followingConsidered, followingNm, shownBrief } from '../state.ts';
import { fuelText, gaugeWords, temperatureText, windText } from '../table/cells.ts';
import { isInTable, type TableReach } from '../table/columns.ts';
import { STANDING_WORDS, UNKNOWN_WORD, VERDICT_WORDS } from '../words.ts';
import { hereValues } from './here.ts';
import { PartsTable } from './parts-table.tsx';
import { type Readout, type ReadoutValue, readoutAt, readoutSentence } from './values.ts';

const SPEAK_AFTER_MS = 350;

interface ReadoutPanelProps {
  readonly brief: Brief;
  /** What the table has no room for is said here. */
  readonly reach: TableReach;
}

export function ReadoutPanel({ brief, reach }: ReadoutPanelProps) {
  const candidate = followingCandidate.value;
  const hereFt =
    candidate === undefined ? followingConsidered.value.altitudeFt : levelAtFt(candidate, followingNm.value);
  const readout = readoutAt(brief, followingNm.value, hereFt);
  const spoken = useSettled(readoutSentence(readout));
  return (
    <section class="readout" aria-labelledby="readout-title">
      <h2 id="readout-title">
        At {candidate === undefined ? feetText(followingConsidered.value.altitudeFt) : levelsText(candidate)}{' '}
        ft
      </h2>
      {candidate && <CandidateWords candidate={candidate} />}
      {candidate && <CruiseFigures candidate={candidate} limits={brief.brief.limits} reach={reach} />}
      <Reported sentences={readout.reported} />
      <CellValues readout={readout} />
      {candidate && candidate.exposure !== null && <Here brief={brief.brief} candidate={candidate} />}
      {candidate && <Phases candidate={candidate} fluid={brief.brief.fluid} />}
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
      {furtherReasons(candidate).map((reason) => (
        <p key={reason.code} class="considered-reason">
          {reason.sentence}
        </p>
      ))}
    </div>
  );
}

interface CruiseFiguresProps {
  readonly candidate: Candidate;
  readonly limits: BriefMember['limits'];
  readonly reach: TableReach;
}

/** Of the path there; the air above these is that of the altitude. */
function Here({ brief, candidate }: { readonly brief: BriefMember; readonly candidate: Candidate }) {
  const values = hereValues(brief, candidate, { distanceNm: followingNm.value, aircraft: legAircraft.value });
  return (
    <div class="readout-here">
      <Values values={values} />
    </div>
  );
}

/** The figures of the altitude that its row leaves out. */
function CruiseFigures({ candidate: { exposure }, limits, reach }: CruiseFiguresProps) {
  if (exposure === null || isInTable(reach, 'temperature')) return null;
  const figures = [
    ['static / gauge °C', temperatureText(exposure)],
    ['wind kt, − is ahead', windText(exposure)],
    ['fuel kg', fuelText(exposure)],
  ] as const;
  return (
    <div class="cruise-figures">
      <dl class="readout-values">
        {figures.map(([label, text]) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{text === UNKNOWN_TEXT ? UNKNOWN_WORD : text}</dd>
          </div>
        ))}
      </dl>
      <p class="quiet">{gaugeWords(limits)}</p>
    </div>
  );
}

/** Those that the answer above does not show already. */
function furtherReasons(candidate: Candidate): readonly Reason[] {
  const answer = shownBrief.value;
  if (answer === undefined) return candidate.reasons;
  const { brief } = answer;
  const shown = isBest(followingConsidered.value, brief) ? brief.verdict.reasons : candidate.reasons;
  const said = new Set(shown.slice(0, REASONS_SHOWN).map((reason) => reason.sentence));
  return candidate.reasons.filter((reason) => !said.has(reason.sentence));
}

interface PhasesProps {
  readonly candidate: Candidate;
  readonly fluid: BriefMember['fluid'];
}

function Phases({ candidate: { exposure, failure }, fluid }: PhasesProps) {
  if (exposure === null) return null;
  return (
    <div class="phases">
      <PartsTable parts={exposure.parts} fluid={fluid} />
      {failure !== null && <p>If the protection fails: {failureWords(failure)}</p>}
    </div>
  );
}

/** Before all figures: somebody met it, or warns of it. */
function Reported({ sentences }: { readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <ul class="readout-reported">
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}

function CellValues({ readout }: { readonly readout: Readout }) {
  if (readout.kind === 'no-cells') return <p>This answer carries no values along the leg.</p>;
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
      <Values values={readout.values} />
    </>
  );
}

function Values({ values }: { readonly values: readonly ReadoutValue[] }) {
  return (
    <dl class="readout-values">
      {values.map(({ label, text }) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
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
