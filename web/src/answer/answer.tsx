/** The answer first: one verdict, one altitude, one sentence; of the altitude that was given where that is another. */
import { useRef } from 'preact/hooks';
import { capitalized } from '../../../worker/flight/words.ts';
import { askForFluid } from '../ask-leg.ts';
import { bestCandidateOf, isBest, waysOf } from '../considered.ts';
import type { Brief, BriefMember, Candidate } from '../contract.ts';
import { wayName } from '../later/later-words.ts';
import { considered, consideredCandidate, nowMs } from '../state.ts';
import { STANDING_WORDS, VERDICT_WORDS } from '../words.ts';
import { answerAgeWords, inventedWords, pastWords, staleFromWords, staleWords } from './age-line.ts';
import { Headline } from './altitude-line.tsx';
import { Changes } from './changes.tsx';
import { ControllerLines } from './controller-lines.tsx';
import { failureWords } from './failure-words.ts';
import { fluidNeedWords, fluidPlanSentences, fluidSpare, isFluidShort } from './fluid-words.ts';
import { useKeptHeight } from './kept-height.ts';
import { outsOf } from './out-lines.ts';
import { unknownMinimumWords, unknownWords } from './unknown-stretches.ts';
import { VerdictShape } from './verdict-shape.tsx';
import { worstOnLegWords } from './worst-on-leg.ts';

/** As many reasons as the answer's own block holds; the rest stand below the sheet. */
export const REASONS_SHOWN = 3;
/** Identifier of the verdict's word: the focus goes there when a leg was entered. */
export const ANSWER_TITLE = 'answer-title';

export function Answer({ brief: answer }: { readonly brief: Brief }) {
  const { brief } = answer;
  const element = useRef<HTMLElement>(null);
  useKeptHeight(element, brief);
  const past = pastWords(brief, nowMs.value);
  const isRecommended = isBest(considered.value, brief) || consideredCandidate.value === undefined;
  const candidate = isRecommended ? bestCandidateOf(brief) : consideredCandidate.value;
  const code = isRecommended || candidate === undefined ? brief.verdict.code : candidate.verdict;
  const isFlown = isRecommended || candidate?.exposure !== null;
  const reasons = isRecommended ? brief.verdict.reasons : (candidate?.reasons ?? []);
  return (
    <section
      class={`answer answer-${code}${past.length > 0 ? ' answer-past' : ''}`}
      aria-labelledby={ANSWER_TITLE}
      ref={element}
    >
      <Bands past={past} invented={inventedWords(brief)} />
      <div class="answer-verdict">
        {isFlown && <VerdictShape code={code} sizePx={64} />}
        <h2 id={ANSWER_TITLE} tabIndex={-1}>
          {isFlown ? VERDICT_WORDS[code] : 'Not to be flown'}
        </h2>
      </div>
      <div class="answer-altitude">
        <Headline brief={brief} candidate={candidate} isRecommended={isRecommended} />
        <p class="answer-sentence">{sentenceOf(brief, candidate, isRecommended)}</p>
        <UnknownLine words={unknownWords(brief, candidate)} />
        <UnknownLine words={unknownMinimumWords(answer)} />
        {isRecommended && <BetterWay ways={brief.ways} />}
        <ControllerLines brief={brief} isRecommended={isRecommended} />
      </div>
      <div class="answer-why">
        <div>
          <ol class="reasons" aria-label="Reasons">
            {reasons.slice(0, REASONS_SHOWN).map((reason) => (
              <li key={reason.code}>{reason.sentence}</li>
            ))}
          </ol>
          {isRecommended && <Changes changes={brief.changes} />}
        </div>
        <Facts answer={answer} candidate={candidate} />
      </div>
    </section>
  );
}

interface BandsProps {
  readonly past: readonly string[];
  readonly invented: string | undefined;
}

/** Across the top: what makes the rest not to be acted on. */
function Bands({ past, invented }: BandsProps) {
  return (
    <>
      {invented !== undefined && <p class="answer-band">{invented}</p>}
      {past.length > 0 && (
        <p class="answer-band answer-band-past" role="status">
          {past.join('. ')}: brief again
        </p>
      )}
    </>
  );
}

/** The ten words of the altitude that was given, or the brief's own sentence. */
function sentenceOf(brief: BriefMember, candidate: Candidate | undefined, isRecommended: boolean): string {
  const cold =
    candidate?.isUnderColdMinimum === true ? '; truly under the minimum altitude in this cold' : '';
  if (isRecommended || candidate === undefined) return `${brief.verdict.sentence}${cold}`;
  const words = candidate.exposure === null ? STANDING_WORDS[candidate.standing] : candidate.inWords;
  if (candidate.exposure === null) return capitalized(words);
  const ask = candidate.direction === 'ask' ? '; wrong-way level' : '';
  return `${capitalized(words)}${cold}${ask}`;
}

interface PartProps {
  readonly brief: BriefMember;
  readonly candidate: Candidate | undefined;
}

/** Place and cause beside the verdict: unknown is never only a word. */
function UnknownLine({ words }: { readonly words: string }) {
  if (words === '') return null;
  return (
    <p class="unknown-place">
      <span>{words}</span>
    </p>
  );
}

/** Another way than the leg as it was asked for, where the brief finds one better. */
function BetterWay({ ways }: Pick<BriefMember, 'ways'>) {
  const best = ways.find((way) => way.isBest);
  if (best === undefined || best.kind === 'cancel' || best.id === 'filed') return null;
  return (
    <p class="answer-way">
      <b>Better: {best.kind === 'wait' ? 'wait' : wayName(best)}.</b> {best.sentence}
    </p>
  );
}

interface FactsProps {
  readonly answer: Brief;
  readonly candidate: Candidate | undefined;
}

function Facts({ answer, candidate }: FactsProps) {
  const { brief } = answer;
  const worst = worstOnLegWords(answer);
  const failure = candidate?.failure ?? null;
  return (
    <dl class="answer-facts">
      <div>
        <dt>Out</dt>
        <dd>
          <OutLines brief={brief} candidate={candidate} />
        </dd>
      </div>
      <FluidFact brief={brief} candidate={candidate} />
      {failure !== null && (
        <div>
          <dt>If it fails</dt>
          <dd>{failureWords(failure)}</dd>
        </div>
      )}
      {worst.length > 0 && (
        <div>
          <dt>On the leg</dt>
          <dd>{worst.join('; ')}</dd>
        </div>
      )}
      <DataFact brief={brief} />
    </dl>
  );
}

function OutLines({ brief: { leg, curtain }, candidate }: PartProps) {
  if (candidate?.exposure === null) return <>not worked out for an altitude that is not flown</>;
  const { summary, lines } = outsOf(waysOf(candidate, leg.points), { points: leg.points, curtain });
  return (
    <>
      {lines.length === 0 && summary}
      {lines.length > 0 && (
        <ul class="out-lines">
          {lines.map(({ words, isBad }) => (
            <li key={words}>{isBad ? <strong>{words}</strong> : words}</li>
          ))}
        </ul>
      )}
    </>
  );
}

/** What the considered altitude needs and how it is to be spent; nothing to say without a fluid system. */
function FluidFact({ brief, candidate }: PartProps) {
  const words = fluidNeedWords(brief, candidate);
  if (words === undefined) return null;
  const plan = candidate?.fluidPlan ?? null;
  return (
    <div>
      <dt>Fluid</dt>
      <dd>
        {words}
        {brief.limits.fluidOnBoardL === null && (
          <button type="button" class="enter-fluid" onClick={askForFluid}>
            Enter it
          </button>
        )}
        {isFluidShort(brief, candidate) && <strong>: does not cover the high estimate</strong>}
        {plan !== null && (
          <span class="fluid-plan">{fluidPlanSentences(plan, fluidSpare(brief, candidate)).join('. ')}</span>
        )}
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
        {stale === undefined ? staleFromWords(brief) : <strong class="stale"> {stale}</strong>}
      </dd>
    </div>
  );
}
