/** What became another of a flight from one evaluation to the next, in one sentence; what is within rounding is no change. */
import { capitalized } from '../flight/words.ts';
import type { Change, Evaluation } from '../schema/board.ts';
import { verdictGravity } from '../schema/board-order.ts';
import type { VerdictCode } from '../schema/choice-words.ts';
import type { SharedOfFlight } from '../sources/boards.ts';
import { altitudeParts, feetWords, figureParts, gravestFirst, type Part, type Told } from './change-parts.ts';

const MOST_PARTS = 3;

/** A flight's line at a time: the verdict that it carried, and its last evaluation. */
export interface Line {
  readonly verdict: VerdictCode;
  readonly evaluation: Evaluation | undefined;
}

/** undefined where nothing is worth telling. */
export function changeBetween(
  before: Line | undefined,
  after: Line,
  atMs: number,
): Omit<Change, 'seq'> | undefined {
  const atUtc = new Date(atMs).toISOString();
  if (before?.evaluation === undefined) {
    if (after.evaluation === undefined) return undefined;
    return { atUtc, kind: 'first', sentence: capitalized(verdictWords(after.verdict, after.evaluation)) };
  }
  const parts = gravestFirst(partsOf(before.evaluation, before.verdict, after));
  const told = parts.slice(0, MOST_PARTS);
  if (told.length === 0) return undefined;
  const sentence = capitalized(told.map(({ text }) => text).join('; '));
  return { atUtc, kind: kindOf(before.verdict, after.verdict, parts), sentence };
}

/**
 * A failed attempt takes the place of a verdict that is held: the line is unknown from then on. undefined where it was so before.
 *
 * @param sentence  Why it failed.
 */
export function failureChange(
  before: Line | undefined,
  sentence: string,
  atMs: number,
): Omit<Change, 'seq'> | undefined {
  if (before?.evaluation === undefined || before.verdict === 'unknown') return undefined;
  return {
    atUtc: new Date(atMs).toISOString(),
    kind: kindOf(before.verdict, 'unknown', []),
    sentence: `Unknown: could not be worked out, was ${VERDICT_WORDS[before.verdict]} (${sentence})`,
  };
}

/** What is another now than in the brief that was shared, a sentence each; empty where nothing is. */
export function sinceShared(
  { evaluation }: SharedOfFlight,
  now: Evaluation | null,
  verdict: VerdictCode,
): string[] {
  const parts = partsOf(evaluation, evaluation.verdict, { verdict, evaluation: now ?? undefined });
  return gravestFirst(parts).map(({ text }) => capitalized(text));
}

/** What is not known is not better than anything, and a better verdict with anything that got worse is not better either. */
function kindOf(before: VerdictCode, after: VerdictCode, parts: readonly Part[]): Change['kind'] {
  const worse = verdictGravity(after) - verdictGravity(before);
  if (worse > 0) return 'worse';
  if (worse === 0) return parts.some(({ way }) => way === 'worse') ? 'worse' : 'other';
  const hasWorse = parts.some(({ way }) => way === 'worse' || way === 'rather-worse');
  return after === 'unknown' || hasWorse ? 'other' : 'better';
}

function partsOf(was: Told, verdict: VerdictCode, after: Line): Part[] {
  const is = after.evaluation;
  const isSame = verdict === after.verdict;
  const words = `${verdictWords(after.verdict, is)}, was ${verdictWords(verdict, was)}`;
  const way = verdictGravity(after.verdict) > verdictGravity(verdict) ? 'worse' : 'better';
  return [
    ...(isSame ? [] : [{ subject: 'verdict' as const, text: words, way } as const]),
    ...(is === undefined ? [] : figureParts(was, is)),
    // The verdict's words name the altitudes.
    ...(is === undefined || !isSame ? [] : altitudeParts(was, is)),
  ];
}

const VERDICT_WORDS: Readonly<Record<VerdictCode, string>> = {
  'no-ice-found': 'no ice found',
  'within-limits': 'within limits',
  'outside-limits': 'outside limits',
  unknown: 'unknown',
};

/** "within limits at 11,000 ft"; without an altitude where none is to be filed. */
function verdictWords(verdict: VerdictCode, evaluation: Pick<Evaluation, 'altitudeFt'> | undefined): string {
  const isFiled = verdict === 'no-ice-found' || verdict === 'within-limits';
  const altitudeFt = isFiled ? (evaluation?.altitudeFt ?? null) : null;
  return altitudeFt === null
    ? VERDICT_WORDS[verdict]
    : `${VERDICT_WORDS[verdict]} at ${feetWords(altitudeFt)}`;
}
