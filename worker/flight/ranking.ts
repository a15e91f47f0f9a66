/** The order of flown altitudes, key by key, and in words why one lost against another. */

import { fileReason, isAcceptable, refuseReason } from './file-advice.ts';
import type { FlownCandidate } from './fly-candidate.ts';
import { rounded } from './rounding.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { FlightReason } from './types.ts';
import { gravityOf } from './verdict-rules.ts';
import { apiFeet, apiMinutes, feet, litersOf, millimetersOf, minutesOf, reason } from './words.ts';

interface RankKey {
  readonly code: string;
  /** Lower is better. Rounded where smaller differences mean nothing, so that the next key decides. */
  readonly value: (candidate: FlownCandidate) => number;
  /** What the loser has, when this key decided. */
  readonly lost: (loser: FlownCandidate, winner: FlownCandidate) => string;
}

const roundedMinutes = (seconds: number): number => rounded(minutesOf(seconds), 'hazardMinutes', 'screen');
const roundedMm = (thicknessM: number): number => rounded(millimetersOf(thicknessM), 'builtMm', 'screen');
const wholeMinutes = (seconds: number): number => rounded(minutesOf(seconds), 'timeMinutes', 'screen');
const dangerS = ({ exposure }: FlownCandidate): number =>
  exposure.largeDropS + exposure.intensityS.severe.high;
/** Unknown time stands in for icing, so that missing data never ranks as less ice. */
const icingMiddleS = ({ exposure }: FlownCandidate): number => exposure.icingS.middle + exposure.unknownS;
const icingHighS = ({ exposure }: FlownCandidate): number => exposure.icingS.high + exposure.unknownS;

/** In order: the first key that differs decides. */
export const RANK_KEYS: readonly RankKey[] = [
  {
    code: 'verdict',
    value: ({ verdict }) => gravityOf(verdict),
    lost: (loser, winner) => `${capitalized(badPoint(loser))}; at ${altitudeOf(winner)} ${badPoint(winner)}`,
  },
  {
    code: 'severe-or-large-drops',
    value: (candidate) => roundedMinutes(dangerS(candidate)),
    lost: (loser, winner) => compared(loser, winner, { what: 'severe icing or large drops', ofS: dangerS }),
  },
  {
    code: 'icing-time',
    value: (candidate) => roundedMinutes(icingMiddleS(candidate)),
    lost: (loser, winner) => compared(loser, winner, { what: icingWords(loser), ofS: icingMiddleS }),
  },
  {
    code: 'icing-time-high-estimate',
    value: (candidate) => roundedMinutes(icingHighS(candidate)),
    lost: (loser, winner) =>
      compared(loser, winner, { what: `${icingWords(loser)} at the high estimate`, ofS: icingHighS }),
  },
  {
    code: 'built-ice',
    value: ({ exposure }) => roundedMm(exposure.builtM.middle),
    lost: (loser, winner) =>
      `${roundedMm(loser.exposure.builtM.middle)} mm of ice built, ${roundedMm(winner.exposure.builtM.middle)} mm at ${altitudeOf(winner)}`,
  },
  {
    code: 'unknown-time',
    value: ({ exposure }) => roundedMinutes(exposure.unknownS),
    lost: (loser, winner) =>
      compared(loser, winner, { what: 'unknown air', ofS: ({ exposure }) => exposure.unknownS }),
  },
  {
    code: 'margin-over-the-tops',
    value: ({ exposure }) => (exposure.topsMarginM < ON_TOP_MARGIN_M ? 1 : 0),
    lost: (_, winner) => `Ice less than 1,500 ft below, not so at ${altitudeOf(winner)}`,
  },
  {
    code: 'air-below-unknown',
    value: ({ exposure }) => (exposure.topsUnknownS > 0 ? 1 : 0),
    lost: (_, winner) => `Air within 1,500 ft below is unknown, not so at ${altitudeOf(winner)}`,
  },
  {
    code: 'direction',
    value: ({ direction }) => (direction === 'right-way' ? 0 : 1),
    lost: (_, winner) => `To be asked for, ${altitudeOf(winner)} suits the direction of flight`,
  },
  {
    code: 'time',
    value: ({ exposure }) => wholeMinutes(exposure.totalS),
    lost: (loser, winner) =>
      `${wholeMinutes(loser.exposure.totalS) - wholeMinutes(winner.exposure.totalS)} min longer than ${altitudeOf(winner)}`,
  },
  {
    code: 'fuel',
    value: ({ exposure }) => rounded(exposure.fuelKg, 'fuelKg', 'api'),
    lost: (loser, winner) =>
      `${rounded(loser.exposure.fuelKg - winner.exposure.fuelKg, 'fuelKg', 'api')} kg more fuel than ${altitudeOf(winner)}`,
  },
  {
    code: 'higher-than-needed',
    value: ({ indicatedAltitudeM }) => indicatedAltitudeM,
    lost: (_, winner) => `No better than ${altitudeOf(winner)}, and higher`,
  },
];

/** Negative when a ranks before b. A total order: no two altitudes are equal. */
export function compareCandidates(a: FlownCandidate, b: FlownCandidate): number {
  for (const key of RANK_KEYS) {
    const difference = key.value(a) - key.value(b);
    if (difference !== 0) return difference;
  }
  return 0;
}

/** Why a candidate ranks after the winner, by the first key that differs. */
export function whyLost(loser: FlownCandidate, winner: FlownCandidate): FlightReason {
  const key = RANK_KEYS.find((each) => each.value(loser) !== each.value(winner)) ?? RANK_KEYS.at(-1)!;
  return reason(`lost-on-${key.code}`, key.lost(loser, winner), {
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
  return isAcceptable(candidate.verdict) ? fileReason(candidate.exposure) : refuseReason(candidate);
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

function altitudeOf({ indicatedAltitudeM }: FlownCandidate): string {
  return feet(indicatedAltitudeM);
}

function capitalized(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
