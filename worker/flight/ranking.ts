/** The order of flown altitudes, key by key, and in words why one lost against another. */

import type { FlownCandidate } from './candidate.ts';
import { fileReason, isAcceptable, refuseReason } from './file-advice.ts';
import { rounded } from './rounding.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { FlightReason } from './types.ts';
import { gravityOf } from './verdict-rules.ts';
import {
  apiFeet,
  apiMinutes,
  capitalized,
  levelsWords,
  litersOf,
  millimetersOf,
  minutesOf,
  reason,
} from './words.ts';

/** What the order looks at: altitudes of one leg, or the best altitude of each of several ways. */
export type Rankable = Pick<
  FlownCandidate,
  | 'verdict'
  | 'limitsBroken'
  | 'isUnderColdMinimum'
  | 'exposure'
  | 'fluid'
  | 'levels'
  | 'direction'
  | 'indicatedAltitudeM'
>;

interface RankKey {
  readonly code: string;
  /** Lower is better. */
  readonly value: (candidate: Rankable) => number;
  /** Candidates less than this above the least of those that are level so far are level still: the next key decides. */
  readonly step: number;
  /** What the loser has, when this key decided. */
  readonly lost: (loser: FlownCandidate, winner: FlownCandidate) => string;
}

const roundedMinutes = (seconds: number): number => rounded(minutesOf(seconds), 'hazardMinutes', 'screen');
const roundedMm = (thicknessM: number): number => rounded(millimetersOf(thicknessM), 'builtMm', 'screen');
const litersUp = ({ exposure }: FlownCandidate): number =>
  rounded(litersOf(exposure.fluidM3.high), 'fluidL', 'screen');
const wholeMinutes = (seconds: number): number => rounded(minutesOf(seconds), 'timeMinutes', 'screen');

/** Less is no reason to choose: time in a hazard, s; ice built, m; time, s; fuel, kg. A flag differs by 1. */
export const HAZARD_STEP_S = 300;
const BUILT_STEP_M = 0.002;
const TIME_STEP_S = 60;
const FUEL_STEP_KG = 5;
const FLUID_STEP_M3 = 0.005;
const FLAG_STEP = 1;
/** Altitudes closer than this are one, m. */
const ALTITUDE_STEP_M = 0.1;

const dangerS = ({ exposure }: Rankable): number => exposure.largeDropS + exposure.intensityS.severe.high;
/** Unknown time stands in for icing, so that missing data never ranks as less ice. */
export const icingMiddleS = ({ exposure }: Pick<Rankable, 'exposure'>): number =>
  exposure.icingS.middle + exposure.unknownS;
const icingHighS = ({ exposure }: Rankable): number => exposure.icingS.high + exposure.unknownS;

/** In order: the first key that differs decides. */
export const RANK_KEYS: readonly RankKey[] = [
  // No verdict on ice makes up for the ground.
  {
    code: 'cold-minimum',
    value: ({ isUnderColdMinimum }) => (isUnderColdMinimum ? 1 : 0),
    step: FLAG_STEP,
    lost: (_, winner) => `Too low in the cold to keep the minimum altitude, ${altitudeOf(winner)} is not`,
  },
  {
    code: 'verdict',
    value: ({ verdict }) => gravityOf(verdict),
    step: FLAG_STEP,
    lost: (loser, winner) => `${capitalized(badPoint(loser))}; at ${altitudeOf(winner)} ${badPoint(winner)}`,
  },
  {
    code: 'severe-or-large-drops',
    value: dangerS,
    step: HAZARD_STEP_S,
    lost: (loser, winner) => compared(loser, winner, { what: 'severe icing or large drops', ofS: dangerS }),
  },
  {
    code: 'limits-broken',
    value: ({ limitsBroken }) => limitsBroken,
    step: FLAG_STEP,
    lost: (loser, winner) => `${capitalized(badPoint(loser))}; at ${altitudeOf(winner)} ${badPoint(winner)}`,
  },
  {
    code: 'fluid-short-by',
    value: ({ fluid }) =>
      fluid?.onBoardM3 === undefined ? 0 : Math.max(0, fluid.neededM3.high - fluid.onBoardM3),
    step: FLUID_STEP_M3,
    lost: (loser, winner) =>
      `Up to ${litersUp(loser)} L of fluid needed, ${litersUp(winner)} L at ${altitudeOf(winner)}`,
  },
  {
    code: 'icing-time',
    value: icingMiddleS,
    step: HAZARD_STEP_S,
    lost: (loser, winner) => compared(loser, winner, { what: icingWords(loser), ofS: icingMiddleS }),
  },
  {
    code: 'icing-time-high-estimate',
    value: icingHighS,
    step: HAZARD_STEP_S,
    lost: (loser, winner) =>
      compared(loser, winner, { what: `${icingWords(loser)} at the high estimate`, ofS: icingHighS }),
  },
  {
    code: 'built-ice',
    value: ({ exposure }) => exposure.builtM.middle,
    step: BUILT_STEP_M,
    lost: (loser, winner) =>
      `${roundedMm(loser.exposure.builtM.middle)} mm of ice built, ${roundedMm(winner.exposure.builtM.middle)} mm at ${altitudeOf(winner)}`,
  },
  {
    code: 'unknown-time',
    value: ({ exposure }) => exposure.unknownS,
    step: HAZARD_STEP_S,
    lost: (loser, winner) =>
      compared(loser, winner, { what: 'unknown air', ofS: ({ exposure }) => exposure.unknownS }),
  },
  {
    code: 'changes',
    value: ({ levels }) => levels.length - 1,
    step: FLAG_STEP,
    lost: (_, winner) => `The change of altitude gains too little over ${altitudeOf(winner)}`,
  },
  {
    code: 'margin-over-the-tops',
    value: ({ exposure }) => (exposure.topsMarginM < ON_TOP_MARGIN_M ? 1 : 0),
    step: FLAG_STEP,
    lost: (_, winner) => `Ice less than 1,500 ft below, not so at ${altitudeOf(winner)}`,
  },
  {
    code: 'air-below-unknown',
    value: ({ exposure }) => (exposure.topsUnknownS > 0 ? 1 : 0),
    step: FLAG_STEP,
    lost: (_, winner) => `Air within 1,500 ft below is unknown, not so at ${altitudeOf(winner)}`,
  },
  {
    code: 'direction',
    value: ({ direction }) => (direction === 'right-way' ? 0 : 1),
    step: FLAG_STEP,
    lost: (_, winner) => `To be asked for, ${altitudeOf(winner)} suits the direction of flight`,
  },
  {
    code: 'time',
    value: ({ exposure }) => exposure.totalS,
    step: TIME_STEP_S,
    lost: (loser, winner) =>
      `${wholeMinutes(loser.exposure.totalS) - wholeMinutes(winner.exposure.totalS)} min longer than ${altitudeOf(winner)}`,
  },
  {
    code: 'fuel',
    value: ({ exposure }) => exposure.fuelKg,
    step: FUEL_STEP_KG,
    lost: (loser, winner) =>
      `${rounded(loser.exposure.fuelKg - winner.exposure.fuelKg, 'fuelKg', 'api')} kg more fuel than ${altitudeOf(winner)}`,
  },
  {
    code: 'higher-than-needed',
    value: ({ indicatedAltitudeM }) => indicatedAltitudeM,
    step: ALTITUDE_STEP_M,
    lost: (_, winner) => `No better than ${altitudeOf(winner)}, and higher`,
  },
];

/** Best first. Differences that mean nothing are measured from the best, so that no rounding edge decides. */
export function rankCandidates<Candidate extends Rankable>(candidates: readonly Candidate[]): Candidate[] {
  return ranked(candidates, 0);
}

function ranked<Candidate extends Rankable>(level: readonly Candidate[], keyIndex: number): Candidate[] {
  const key = RANK_KEYS[keyIndex];
  if (key === undefined || level.length < 2) return [...level];
  const steps = level.map((candidate) => ({ candidate, behind: stepsBehind(key, candidate, level) }));
  const groups = [...new Set(steps.map(({ behind }) => behind))].sort((a, b) => a - b);
  return groups.flatMap((group) =>
    ranked(
      steps.filter(({ behind }) => behind === group).map(({ candidate }) => candidate),
      keyIndex + 1,
    ),
  );
}

/** Rounding of the values themselves is no step. */
const DUST = 1e-9;

function stepsBehind(key: RankKey, candidate: Rankable, level: readonly Rankable[]): number {
  const least = level.reduce((lowest, each) => Math.min(lowest, key.value(each)), Number.POSITIVE_INFINITY);
  return Math.floor((key.value(candidate) - least) / key.step + DUST);
}

/** Why a candidate ranks after the winner: the key on which it fell behind those that are level with the winner. */
export function whyLost(loser: FlownCandidate, all: readonly FlownCandidate[]): FlightReason {
  const winner = all[0]!;
  let level = all;
  let deciding = RANK_KEYS.at(-1)!;
  for (const key of RANK_KEYS) {
    const from = level;
    deciding = key;
    if (stepsBehind(key, loser, from) > 0) break;
    level = from.filter((candidate) => stepsBehind(key, candidate, from) === 0);
  }
  return reason(`lost-on-${deciding.code}`, deciding.lost(loser, winner), {
    ...figures(loser),
    winnerAltitudeFt: apiFeet(winner.indicatedAltitudeM),
    winnerIcingMinutes: apiMinutes(winner.exposure.icingS.middle),
  });
}

export function whyBest(winner: FlownCandidate, flownCount: number): FlightReason {
  return reason('ranked-first', `First of ${flownCount} altitudes: ${badPoint(winner)}`, figures(winner));
}

/** The fact that made the verdict, in a few words. */
function badPoint(candidate: FlownCandidate): string {
  return isAcceptable(candidate.verdict) ? fileReason(candidate) : refuseReason(candidate);
}

function figures({ exposure }: FlownCandidate): Record<string, number | string> {
  return {
    icingMinutes: apiMinutes(exposure.icingS.middle),
    unknownMinutes: apiMinutes(exposure.unknownS),
    builtMm: rounded(millimetersOf(exposure.builtM.middle), 'builtMm', 'api'),
    fluidL: rounded(litersOf(exposure.fluidM3.middle), 'fluidL', 'api'),
    timeMinutes: rounded(minutesOf(exposure.totalS), 'timeMinutes', 'api'),
    fuelKg: rounded(exposure.fuelKg, 'fuelKg', 'api'),
  };
}

/** "40 min of light icing, 35 min more than 11,000 ft". */
function compared(
  loser: FlownCandidate,
  winner: FlownCandidate,
  by: { readonly what: string; readonly ofS: (candidate: FlownCandidate) => number },
): string {
  const minutes = roundedMinutes(by.ofS(loser));
  const moreMinutes = minutes - roundedMinutes(by.ofS(winner));
  return `${minutes} min of ${by.what}, ${moreMinutes} min more than ${altitudeOf(winner)}`;
}

function icingWords({ exposure }: FlownCandidate): string {
  if (exposure.icingS.high === 0) return 'unknown air';
  return exposure.unknownS > 0 ? 'icing or unknown air' : `icing, ${exposure.worstIntensity} at worst`;
}

function altitudeOf({ levels }: FlownCandidate): string {
  return levelsWords(levels);
}
