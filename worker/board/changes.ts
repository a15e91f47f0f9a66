/** What became another of a flight from one evaluation to the next, in one sentence; what is within rounding is no change. */
import { rounded } from '../flight/rounding.ts';
import { capitalized, withThousands } from '../flight/words.ts';
import type { Change, Evaluation, WeatherStanding } from '../schema/board.ts';
import { verdictGravity } from '../schema/board-order.ts';
import type { VerdictCode } from '../schema/choice-words.ts';
import type { SharedOfFlight } from '../sources/boards.ts';

const WORTH_FT = 1000;
const WORTH_MINUTES = 10;
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
  const told = gravestFirst(partsOf(before.evaluation, before.verdict, after)).slice(0, MOST_PARTS);
  if (told.length === 0) return undefined;
  const sentence = capitalized(told.map(({ text }) => text).join('; '));
  return { atUtc, kind: kindOf(before.verdict, after.verdict), sentence };
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

function kindOf(before: VerdictCode, after: VerdictCode): Change['kind'] {
  const worse = verdictGravity(after) - verdictGravity(before);
  if (worse === 0) return 'other';
  return worse > 0 ? 'worse' : 'better';
}

/** In order of gravity. */
const SUBJECTS = [
  ...(['verdict', 'large-drops', 'destination', 'fluid'] as const),
  ...(['intensity', 'altitude', 'alternate', 'minutes'] as const),
];

interface Part {
  readonly subject: (typeof SUBJECTS)[number];
  readonly text: string;
  /** Or has to be told to the pilot, as another altitude to file. */
  readonly isWorse: boolean;
}

/** The verdict leads whichever way it went; what is worse comes before what is better. */
function gravestFirst(parts: readonly Part[]): Part[] {
  const place = ({ subject, isWorse }: Part) =>
    SUBJECTS.indexOf(subject) + (isWorse || subject === 'verdict' ? 0 : SUBJECTS.length);
  return [...parts].sort((a, b) => place(a) - place(b));
}

/** What a line tells; of a brief that was shared less is kept, and what is not kept is not compared. */
type Told = SharedOfFlight['evaluation'] &
  Partial<Pick<Evaluation, 'fluid' | 'fluidUnknownWhy' | 'destination' | 'alternate'>>;

function partsOf(was: Told, verdict: VerdictCode, after: Line): Part[] {
  const is = after.evaluation;
  const isSame = verdict === after.verdict;
  const words = `${verdictWords(after.verdict, is)}, was ${verdictWords(verdict, was)}`;
  const isWorse = verdictGravity(after.verdict) > verdictGravity(verdict);
  return [
    ...(isSame ? [] : [{ subject: 'verdict' as const, text: words, isWorse }]),
    ...(is === undefined ? [] : figureParts(was, is)),
    // The verdict's words name the altitudes.
    ...(is === undefined || !isSame ? [] : altitudeParts(was, is)),
  ];
}

function figureParts(was: Told, is: Told): Part[] {
  return [
    ...dropParts(was, is),
    ...fluidParts(was, is),
    ...intensityParts(was, is),
    ...minuteParts(was, is),
    ...standingParts('destination', was.destination, is.destination),
    ...standingParts('alternate', was.alternate, is.alternate),
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

const feetWords = (feet: number) => `${withThousands(feet)} ft`;

function altitudeParts({ altitudeFt: was }: Told, { altitudeFt: is }: Told): Part[] {
  if (was === null && is === null) return [];
  if (is === null)
    return [{ subject: 'altitude', text: `no altitude to file, was ${feetWords(was!)}`, isWorse: true }];
  if (was === null) return [{ subject: 'altitude', text: `file ${feetWords(is)}, was none`, isWorse: false }];
  if (Math.abs(is - was) < WORTH_FT) return [];
  return [{ subject: 'altitude', text: `file ${feetWords(is)}, was ${feetWords(was)}`, isWorse: true }];
}

const DROPS = ['none', 'ice-pellets', 'freezing-drizzle', 'freezing-rain'] as const;

function dropParts({ exposure: was }: Told, { exposure: is }: Told): Part[] {
  // Of a flight that cannot be flown nothing is known of the drops: its verdict says so.
  if (is === null) return [];
  const [before, after] = [was?.worstLargeDrops ?? 'none', is.worstLargeDrops];
  if (before === after) return [];
  const words = (drops: (typeof DROPS)[number]) => drops.replace('-', ' ');
  const text = `${after === 'none' ? 'no large drops' : words(after)}, was ${words(before)}`;
  const isWorse = DROPS.indexOf(after) > DROPS.indexOf(before);
  return [{ subject: 'large-drops', text: was === null ? words(after) : text, isWorse }];
}

const INTENSITIES = ['none', 'trace', 'light', 'moderate', 'severe'] as const;

function intensityParts({ exposure: was }: Told, { exposure: is }: Told): Part[] {
  if (was === null || is === null || was.worstIntensity === is.worstIntensity) return [];
  const words = (intensity: (typeof INTENSITIES)[number] | null) => intensity ?? 'unknown';
  const isWorse =
    is.worstIntensity === null ||
    (was.worstIntensity !== null &&
      INTENSITIES.indexOf(is.worstIntensity) > INTENSITIES.indexOf(was.worstIntensity));
  return [
    {
      subject: 'intensity',
      text: `worst icing ${words(is.worstIntensity)}, was ${words(was.worstIntensity)}`,
      isWorse,
    },
  ];
}

function minuteParts({ exposure: was }: Told, { exposure: is }: Told): Part[] {
  if (was === null || is === null) return [];
  const more = is.icingMinutesHigh - was.icingMinutesHigh;
  if (Math.abs(more) < WORTH_MINUTES) return [];
  const words = (minutes: number) => `${rounded(minutes, 'mostMinutes', 'screen')} min`;
  const text = `up to ${words(is.icingMinutesHigh)} in ice, was ${words(was.icingMinutesHigh)}`;
  return [{ subject: 'minutes', text, isWorse: more > 0 }];
}

/** What was shared says nothing of the fluid: then nothing is compared. */
function fluidParts(was: Told, is: Told): Part[] {
  if (was.fluid === undefined || is.fluid === undefined) return [];
  const [before, after] = [fluidState(was), fluidState(is)];
  if (before === after) return [];
  if (after === 'short') {
    const needed = rounded(is.fluid!.neededHighL, 'fluidL', 'screen');
    return [{ subject: 'fluid', text: `fluid does not cover up to ${needed} L`, isWorse: true }];
  }
  if (after === 'unknown')
    return [{ subject: 'fluid', text: 'fluid on board is not known any more', isWorse: true }];
  // Nothing was said of it before, and nothing is wrong with it.
  return before === 'none' || after === 'none'
    ? []
    : [{ subject: 'fluid', text: 'fluid covers what is needed', isWorse: false }];
}

function fluidState({ fluid, fluidUnknownWhy }: Told): 'covers' | 'short' | 'unknown' | 'none' {
  if (fluid) return fluid.coversHighEstimate ? 'covers' : 'short';
  return fluidUnknownWhy ? 'unknown' : 'none';
}

const STANDINGS = ['above', 'unknown', 'below'] as const;
const STANDING_WORDS: Readonly<Record<WeatherStanding['standing'], string>> = {
  above: 'above minima',
  unknown: 'unknown against minima',
  below: 'below minima',
};

/** Of the same aerodrome alone. */
function standingParts(
  subject: Part['subject'],
  was: WeatherStanding | null | undefined,
  is: WeatherStanding | null | undefined,
): Part[] {
  if (!was || !is || was.aerodrome !== is.aerodrome || was.standing === is.standing) return [];
  const text = `${is.aerodrome} ${STANDING_WORDS[is.standing]}, was ${STANDING_WORDS[was.standing]}`;
  return [{ subject, text, isWorse: STANDINGS.indexOf(is.standing) > STANDINGS.indexOf(was.standing) }];
}
