/** One part of a flight as it is shown: its time, and the estimates of what it meets. */
import { LARGE_DROPS, LARGE_DROPS_WORDS, type LargeDrops, type LargeDropsWord } from '../science/columns.ts';
import type { PartSums } from './draw-sums.ts';
import { NOTHING, spreadOfDraws } from './estimates.ts';
import { flowedM3, settingTimes } from './fluid.ts';
import type { Aircraft, PartExposure, Spread } from './types.ts';

export function partExposure(
  { protection }: Pick<Aircraft, 'protection'>,
  what: Pick<PartExposure, 'part' | 'altitudeM' | 'durationS' | 'unknownS' | 'iceAir' | 'reported'>,
  sums: PartSums,
): PartExposure {
  return {
    ...what,
    icingS: spreadOfDraws(sums.icingS),
    moistureBelowFreezingS: spreadOfDraws(sums.moistS),
    builtM: spreadOfDraws(sums.builtM),
    fluidM3: partFluidM3(protection, sums, what.unknownS),
    growthMps: meanInIce(sums.builtM, sums.icingS),
    catchKgPerM2S: meanInIce(sums.caughtKgPerM2, sums.icingS),
  };
}

/** Of the draws that meet ice alone: it is what to expect once there is some. */
function meanInIce(sums: Float64Array, icingS: Float64Array): Spread | undefined {
  const means = sums.map((each, draw) => each / icingS[draw]!).filter((_, draw) => icingS[draw]! > 0);
  return means.length === 0 ? undefined : spreadOfDraws(means);
}

/** Unknown air flows at the normal setting in the high estimate, as in the sum. */
function partFluidM3(protection: Aircraft['protection'], sums: PartSums, unknownS: number): Spread {
  if (protection.kind !== 'fluid') return NOTHING;
  const { low, middle, high } = spreadOfDraws(
    sums.moistS.map((moistS, draw) => flowedM3(protection, settingTimes(moistS, sums.highFlowS[draw]!))),
  );
  return { low, middle, high: high + protection.normalFlowM3PerS * unknownS };
}

/**
 * Priming on the way out, before a flight that will need fluid.
 *
 * @param unknownS  In unknown air on the whole flight: that may need it.
 */
export function taxiPart(
  { protection }: Pick<Aircraft, 'protection'>,
  { moistS }: PartSums,
  unknownS: number,
): PartExposure {
  const primingM3 = protection.kind === 'fluid' ? protection.primingM3 : 0;
  const known = spreadOfDraws(moistS.map((each) => (each > 0 ? primingM3 : 0)));
  return {
    part: 'taxi',
    altitudeM: undefined,
    durationS: 0,
    unknownS: 0,
    icingS: NOTHING,
    moistureBelowFreezingS: NOTHING,
    builtM: NOTHING,
    fluidM3: unknownS > 0 ? { ...known, high: primingM3 } : known,
    growthMps: undefined,
    catchKgPerM2S: undefined,
    iceAir: undefined,
    reported: [],
  };
}

/** Worst last. Ice pellets tell of freezing rain above and count as large drops, but the drops themselves are worse. */
const DROPS_BY_HARM: readonly LargeDrops[] = [
  LARGE_DROPS.none,
  LARGE_DROPS.icePellets,
  LARGE_DROPS.freezingDrizzle,
  LARGE_DROPS.freezingRain,
];

/** The worse of two LARGE_DROPS codes. */
export function worseDrops(one: number, other: number): number {
  const rank = (code: number) => DROPS_BY_HARM.indexOf(code as LargeDrops);
  return rank(one) >= rank(other) ? one : other;
}

export function dropsWord(code: number): LargeDropsWord {
  return LARGE_DROPS_WORDS[code] ?? 'none';
}
