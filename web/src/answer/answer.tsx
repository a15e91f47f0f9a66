/** The answer first: one verdict, one altitude, one sentence. */
import type { Brief, BriefMember } from '../contract.ts';
import { feetText, spreadText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { VERDICT_WORDS } from '../words.ts';
import { answerAgeWords, staleWords } from './age-line.ts';
import { rangeText, refusedRanges, wayOutSentence } from './file-line.ts';
import { VerdictShape } from './verdict-shape.tsx';

/** As many reasons as the answer's own block holds; the rest stand below the sheet. */
export const REASONS_SHOWN = 3;

export function Answer({ brief: { brief } }: { readonly brief: Brief }) {
  return (
    <section class={`answer answer-${brief.verdict.code}`} aria-labelledby="answer-title">
      <div class="answer-verdict">
        <VerdictShape code={brief.verdict.code} sizePx={64} />
        <h2 id="answer-title">{VERDICT_WORDS[brief.verdict.code]}</h2>
      </div>
      <div class="answer-altitude">
        <Altitude file={brief.file} />
        <p class="answer-sentence">{brief.verdict.sentence}</p>
        {brief.file && <FileLine file={brief.file} sentence={brief.verdict.sentence} />}
      </div>
      <div class="answer-why">
        <ol class="reasons" aria-label="Reasons">
          {brief.verdict.reasons.slice(0, REASONS_SHOWN).map((reason) => (
            <li key={reason.code}>{reason.sentence}</li>
          ))}
        </ol>
        <dl class="answer-facts">
          <div>
            <dt>Way out</dt>
            <dd>{wayOutSentence(brief.waysOut)}</dd>
          </div>
          <FluidFact brief={brief} />
          <DataFact brief={brief} />
        </dl>
      </div>
    </section>
  );
}

function Altitude({ file }: { readonly file: BriefMember['file'] }) {
  if (file === null) return <p class="altitude altitude-none">No altitude to file</p>;
  return (
    <p class="altitude">
      <span class="altitude-word">File</span> <span class="altitude-figure">{feetText(file.altitudeFt)}</span>{' '}
      <span class="altitude-unit">ft</span>
    </p>
  );
}

interface FileLineProps {
  readonly file: NonNullable<BriefMember['file']>;
  /** Stands just above: its words are not said twice. */
  readonly sentence: string;
}

function FileLine({ file, sentence }: FileLineProps) {
  const refused = refusedRanges(file.refuse);
  return (
    <>
      {!sentence.includes(file.reason) && <p class="file-line">{file.reason}</p>}
      <p class="file-line">
        <b>Accept</b> {rangeText(file.acceptFt)} ft
      </p>
      {refused.map((range) => (
        <p key={range.upperFt} class="file-line">
          <b>Refuse</b> {rangeText(range)} ft: {range.reason}
        </p>
      ))}
    </>
  );
}

/** What the altitude to file needs, or the least bad one; nothing to say for an aeroplane without a fluid system. */
function FluidFact({ brief: { fluid, limits, recommended } }: { readonly brief: BriefMember }) {
  const needed = fluid?.neededL ?? recommended?.exposure?.fluidL ?? null;
  if (needed === null && limits.fluidOnBoardL === null) return null;
  const need = needed === null ? 'need unknown' : `${spreadText(needed, 'fluidL')} L needed`;
  const carried =
    limits.fluidOnBoardL === null ? 'on board not given' : `${Math.round(limits.fluidOnBoardL)} L on board`;
  return (
    <div>
      <dt>Fluid</dt>
      <dd>
        {need}, {carried}
        {fluid !== null && !fluid.coversHighEstimate && <strong>: does not cover the high estimate</strong>}
      </dd>
    </div>
  );
}

function DataFact({ brief }: { readonly brief: BriefMember }) {
  const stale = staleWords(brief, nowMs.value);
  return (
    <div>
      <dt>Data</dt>
      <dd>
        {answerAgeWords(brief, nowMs.value)}
        {stale !== undefined && <strong class="stale"> {stale}</strong>}
      </dd>
    </div>
  );
}
