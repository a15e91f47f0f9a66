/** The verdict that a board says of a brief: never better than what is known of the aeroplane's fluid and its equipment. */
import { rounded } from '../flight/rounding.ts';
import { capitalized } from '../flight/words.ts';
import type { Evaluation, IceEquipment } from '../schema/board.ts';
import type { BriefMember, Candidate } from '../schema/brief.ts';

/** What one line of a board says of the altitude to fly. */
export type SaidVerdict = Pick<Evaluation, 'verdict' | 'sentence' | 'radio' | 'altitudeFt' | 'acceptFt'>;

export interface AeroplaneState {
  /** Empty where the fluid on board is known, or does not matter. */
  readonly fluidUnknownWhy: string;
  readonly inoperative: readonly IceEquipment[];
}

/**
 * Known to be beyond limits by what is inoperative goes before all else. Fluid that is not known takes every verdict that looks
 * good, and with it the altitude to file.
 *
 * @param best  The altitude that is spoken of.
 */
export function saidVerdict(
  member: BriefMember,
  radio: string,
  best: Candidate | undefined,
  { fluidUnknownWhy, inoperative }: AeroplaneState,
): SaidVerdict {
  const said = asBriefed(member, radio);
  const unheated = inoperative.filter((each) => HEAT.includes(each));
  const cloudMinutes = unheated.length === 0 ? 0 : minutesInColdCloud(best);
  if (cloudMinutes > 0) {
    const others = inoperative.filter((each) => !HEAT.includes(each));
    return namedFirst(unheatedVerdict(said, unheated, cloudMinutes), others);
  }
  if (said.verdict === 'outside-limits') return namedFirst(said, inoperative);
  const looksGood = said.verdict === 'no-ice-found' || said.verdict === 'within-limits';
  return looksGood && fluidUnknownWhy !== '' ? fluidUnknown(said, fluidUnknownWhy) : said;
}

/** Speed and stall warning cannot be relied on without it in cloud below freezing, whether there is ice to be found or not. */
const HEAT: readonly IceEquipment[] = ['pitot-heat', 'stall-warning-heat'];
/** Flown on every arrival, besides the trip. */
const ON_ARRIVAL: readonly string[] = ['vectors', 'approach'];

const wordsOf = (equipment: readonly IceEquipment[], between: string) =>
  equipment.map((each) => each.replaceAll('-', ' ')).join(between);

function asBriefed({ verdict, file }: BriefMember, radio: string): SaidVerdict {
  return {
    ...{ verdict: verdict.code, sentence: verdict.sentence, radio },
    altitudeFt: file?.altitudeFt ?? null,
    acceptFt: file === null ? null : { ...file.acceptFt },
  };
}

function minutesInColdCloud(best: Candidate | undefined): number {
  const exposure = best?.exposure ?? null;
  if (exposure === null) return 0;
  return exposure.parts
    .filter(({ part }) => ON_ARRIVAL.includes(part))
    .reduce(
      (sum, { visibleMoistureBelowFreezingMinutes: { high } }) => sum + high,
      exposure.visibleMoistureBelowFreezingMinutes.high,
    );
}

function unheatedVerdict(
  said: SaidVerdict,
  unheated: readonly IceEquipment[],
  cloudMinutes: number,
): SaidVerdict {
  const upTo = rounded(cloudMinutes, 'mostMinutes', 'screen');
  const own = `Outside limits: ${wordsOf(unheated, ' and ')} inoperative, up to ${upTo} min in cloud below freezing`;
  const more = said.verdict === 'outside-limits' ? `. ${said.sentence}` : '';
  const first = capitalized(wordsOf(unheated.slice(0, 1), ''));
  return {
    verdict: 'outside-limits',
    sentence: own + more,
    radio: `Outside limits. ${first} inoperative, cloud below freezing.`,
    ...{ altitudeFt: null, acceptFt: null },
  };
}

function namedFirst(said: SaidVerdict, equipment: readonly IceEquipment[]): SaidVerdict {
  if (equipment.length === 0) return said;
  return { ...said, sentence: `Inoperative: ${wordsOf(equipment, ', ')}. ${said.sentence}` };
}

function fluidUnknown({ sentence }: SaidVerdict, why: string): SaidVerdict {
  return {
    verdict: 'unknown',
    sentence: `Unknown: ${why.charAt(0).toLowerCase()}${why.slice(1)}. With the fluid known: ${sentence}`,
    radio: 'Unknown: fluid on board not known.',
    ...{ altitudeFt: null, acceptFt: null },
  };
}
