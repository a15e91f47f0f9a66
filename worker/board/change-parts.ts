/** What of one evaluation is another than of one before, part by part; what is within rounding is no part. */
import { rounded } from '../flight/rounding.ts';
import type { VerdictRule } from '../flight/verdict-rules.ts';
import { withThousands } from '../flight/words.ts';
import type { Evaluation, WeatherStanding } from '../schema/board.ts';
import type { SharedOfFlight } from '../sources/boards.ts';
import { clockWords } from './clock-words.ts';

const WORTH_FT = 1000;
const WORTH_MINUTES = 10;
const WORTH_MM = 5;
const WORTH_LATER_MS = 20 * 60_000;

/** In order of gravity. */
const SUBJECTS = [
  ...(['verdict', 'large-drops', 'reason', 'destination', 'fluid', 'intensity', 'altitude'] as const),
  ...(['alternate', 'accept', 'unknown', 'built', 'minutes', 'arrival'] as const),
];

export interface Part {
  readonly subject: (typeof SUBJECTS)[number];
  readonly text: string;
  /**
   * worse calls for somebody by itself; rather-worse does not where the verdict is the same. tell is neither, but stands with what is
   * worse, since the pilot has to hear of it.
   */
  readonly way: 'worse' | 'rather-worse' | 'tell' | 'better';
}

const PLACES: Readonly<Record<Part['way'], number>> = { worse: 0, 'rather-worse': 1, tell: 1, better: 2 };

/** The verdict leads whichever way it went; what is worse comes before what is better. */
export function gravestFirst(parts: readonly Part[]): Part[] {
  const place = ({ subject, way }: Part) =>
    SUBJECTS.indexOf(subject) + (subject === 'verdict' ? 0 : PLACES[way] * SUBJECTS.length);
  return [...parts].sort((a, b) => place(a) - place(b));
}

/** What a line tells; of a brief that was shared less is kept, and what is not kept is not compared. */
export type Told = SharedOfFlight['evaluation'] &
  Partial<Pick<Evaluation, 'fluid' | 'fluidUnknownWhy' | 'arrivalUtc'>>;

/** All but verdict and altitude to file. */
export function figureParts(was: Told, is: Told): Part[] {
  const drops = dropParts(was, is);
  return [
    ...drops,
    ...reasonParts(was, is, drops.length > 0),
    ...fluidParts(was, is),
    ...intensityParts(was, is),
    ...acceptParts(was, is),
    ...exposureParts(was, is),
    ...standingParts('destination', was.destination, is.destination),
    ...standingParts('alternate', was.alternate, is.alternate),
    ...arrivalParts(was, is),
  ];
}

export const feetWords = (feet: number) => `${withThousands(feet)} ft`;

/** The altitude to file. */
export function altitudeParts({ altitudeFt: was }: Told, { altitudeFt: is }: Told): Part[] {
  if (was === null && is === null) return [];
  const subject = 'altitude';
  if (is === null) return [{ subject, text: `no altitude to file, was ${feetWords(was!)}`, way: 'worse' }];
  if (was === null) return [{ subject, text: `file ${feetWords(is)}, was none`, way: 'better' }];
  if (Math.abs(is - was) < WORTH_FT) return [];
  return [{ subject, text: `file ${feetWords(is)}, was ${feetWords(was)}`, way: 'tell' }];
}

/** Narrower at either end: an altitude that could be accepted cannot any more. */
function acceptParts({ acceptFt: was }: Told, { acceptFt: is }: Told): Part[] {
  if (was === null || is === null) return [];
  const lostFt = Math.max(is.lowerFt - was.lowerFt, was.upperFt - is.upperFt);
  if (lostFt < WORTH_FT) return [];
  const words = ({ lowerFt, upperFt }: typeof is) =>
    lowerFt === upperFt ? feetWords(lowerFt) : `${withThousands(lowerFt)} to ${feetWords(upperFt)}`;
  return [{ subject: 'accept', text: `accept ${words(is)}, was ${words(was)}`, way: 'worse' }];
}

/**
 * Reasons that call for somebody whatever the verdict is: large drops, severe icing, icing reported or warned of, no way out. Of each
 * kind the gravest first: one that follows one that held before is no news.
 */
const GRAVE: readonly (readonly (readonly [VerdictRule['code'], string])[])[] = [
  [
    ['large-drops', 'large drops on the way'],
    ['large-drops-where-planned', 'large drops in hold, approach or alternate'],
    ['large-drops-not-excluded', 'large drops possible'],
  ],
  [['reported-large-drops', 'large drops reported or warned of']],
  [
    ['severe-icing', 'severe icing on the way'],
    ['severe-icing-where-planned', 'severe icing in hold, approach or alternate'],
  ],
  [
    ['reported-severe-icing', 'severe icing reported or warned of'],
    ['reported-icing', 'icing reported or warned of'],
  ],
  [
    ['no-way-out', 'no way out of the ice'],
    ['way-out-unknown', 'way out of the ice not known'],
  ],
];

/** @param isDropsTold  Drops on the way are told by their name already. */
function reasonParts({ reasonCodes: was }: Told, { reasonCodes: is }: Told, isDropsTold: boolean): Part[] {
  return GRAVE.flatMap((kind): Part[] => {
    const held = kind.find(([code]) => was.includes(code) || is.includes(code));
    if (held === undefined || was.includes(held[0])) return [];
    if (isDropsTold && held[0] === 'large-drops') return [];
    return [{ subject: 'reason', text: held[1], way: 'worse' }];
  });
}

function exposureParts({ exposure: was }: Told, { exposure: is }: Told): Part[] {
  if (was === null || is === null) return [];
  const minutes = (value: number) => `${rounded(value, 'mostMinutes', 'screen')} min`;
  const mm = (value: number) => `${rounded(value, 'builtMm', 'screen')} mm`;
  const parts: Part[] = [];
  const unknown = is.unknownMinutes - was.unknownMinutes;
  if (Math.abs(unknown) >= WORTH_MINUTES) {
    const text = `unknown air ${minutes(is.unknownMinutes)}, was ${minutes(was.unknownMinutes)}`;
    parts.push({ subject: 'unknown', text, way: unknown > 0 ? 'worse' : 'better' });
  }
  const built = is.builtMmHigh - was.builtMmHigh;
  if (Math.abs(built) >= WORTH_MM) {
    const text = `up to ${mm(is.builtMmHigh)} of ice, was ${mm(was.builtMmHigh)}`;
    parts.push({ subject: 'built', text, way: built > 0 ? 'worse' : 'better' });
  }
  const icing = is.icingMinutesHigh - was.icingMinutesHigh;
  if (Math.abs(icing) >= WORTH_MINUTES) {
    const text = `up to ${minutes(is.icingMinutesHigh)} in ice, was ${minutes(was.icingMinutesHigh)}`;
    parts.push({ subject: 'minutes', text, way: icing > 0 ? 'rather-worse' : 'better' });
  }
  return parts;
}

function arrivalParts({ arrivalUtc: was }: Told, { arrivalUtc: is }: Told): Part[] {
  if (!was || !is) return [];
  const [before, after] = [Date.parse(was), Date.parse(is)];
  if (!(Math.abs(after - before) >= WORTH_LATER_MS)) return [];
  const text = `arrives ${clockWords(after, before)}, was ${clockWords(before, before)}`;
  return [{ subject: 'arrival', text, way: 'tell' }];
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
  const way = isWorse ? 'worse' : 'better';
  return [{ subject: 'large-drops', text: was === null ? words(after) : text, way }];
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
      way: isWorse ? 'rather-worse' : 'better',
    },
  ];
}

/** What was shared says nothing of the fluid: then nothing is compared. */
function fluidParts(was: Told, is: Told): Part[] {
  if (was.fluid === undefined || is.fluid === undefined) return [];
  const [before, after] = [fluidState(was), fluidState(is)];
  if (before === after) return [];
  if (after === 'short') {
    const needed = rounded(is.fluid!.neededHighL, 'fluidL', 'screen');
    return [{ subject: 'fluid', text: `fluid does not cover up to ${needed} L`, way: 'worse' }];
  }
  if (after === 'unknown')
    return [{ subject: 'fluid', text: 'fluid on board is not known any more', way: 'worse' }];
  // Nothing was said of it before, and nothing is wrong with it.
  return before === 'none' || after === 'none'
    ? []
    : [{ subject: 'fluid', text: 'fluid covers what is needed', way: 'better' }];
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
  const isWorse = STANDINGS.indexOf(is.standing) > STANDINGS.indexOf(was.standing);
  return [{ subject, text, way: isWorse ? 'worse' : 'better' }];
}
