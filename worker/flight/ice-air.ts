/** In what air a part of a flight meets its ice, and where: means weighted by time and by the part of the draws with ice. */
import { LARGE_DROPS } from '../science/columns.ts';
import { pressurePaFromPressureAltitudeM } from '../science/standard-atmosphere.ts';
import type { CellFacts } from './cell-facts.ts';
import { ICE_POSSIBLE } from './estimates.ts';
import { tableValue } from './performance-table.ts';
import type { Aircraft, IceAir, LegColumns } from './types.ts';

/** Sums while a part is flown; start anew for each part. */
export interface IceAirSums {
  weightS: number;
  temperatureKS: number;
  altitudeMS: number;
  lowestM: number;
  highestM: number;
  fromM: number;
  toM: number;
  hasLargeDrops: boolean;
}

export function makeIceAirSums(): IceAirSums {
  return {
    weightS: 0,
    temperatureKS: 0,
    altitudeMS: 0,
    lowestM: Number.POSITIVE_INFINITY,
    highestM: Number.NEGATIVE_INFINITY,
    fromM: Number.POSITIVE_INFINITY,
    toM: Number.NEGATIVE_INFINITY,
    hasLargeDrops: false,
  };
}

/** Some time in one known cell; the ends along the route are left out where a part stays over one place. */
export interface IceAirStay {
  readonly index: number;
  readonly pressureAltitudeM: number;
  readonly durationS: number;
  readonly fromM?: number | undefined;
  readonly toM?: number | undefined;
}

export function addIceAir(
  sums: IceAirSums,
  { facts, weather, icing }: LegColumns & { readonly facts: CellFacts },
  { index, pressureAltitudeM, durationS, fromM, toM }: IceAirStay,
): void {
  const hasDrops = icing.largeDrops[index] !== LARGE_DROPS.none;
  sums.hasLargeDrops ||= hasDrops;
  // Drops that are named count as possible ice, however few draws have any.
  const ratio = Math.max(facts.iceRatio[index]!, hasDrops ? ICE_POSSIBLE : 0);
  if (ratio === 0) return;
  sums.weightS += ratio * durationS;
  sums.temperatureKS += ratio * durationS * weather.temperatureK[index]!;
  sums.altitudeMS += ratio * durationS * pressureAltitudeM;
  if (ratio < ICE_POSSIBLE) return;
  sums.lowestM = Math.min(sums.lowestM, pressureAltitudeM);
  sums.highestM = Math.max(sums.highestM, pressureAltitudeM);
  sums.fromM = Math.min(sums.fromM, fromM ?? Number.POSITIVE_INFINITY);
  sums.toM = Math.max(sums.toM, toM ?? Number.NEGATIVE_INFINITY);
}

/**
 * @returns  undefined where no draw meets ice, and where it does nowhere in more than one draw of twenty.
 * @checked  tests/flight/ice-air.test.ts
 */
export function iceAirOf(sums: IceAirSums, { trueAirspeedMps }: Aircraft): IceAir | undefined {
  if (sums.weightS === 0 || sums.lowestM > sums.highestM) return undefined;
  const meanM = sums.altitudeMS / sums.weightS;
  const isAlong = sums.fromM <= sums.toM;
  return {
    temperatureK: sums.temperatureKS / sums.weightS,
    pressurePa: pressurePaFromPressureAltitudeM(meanM),
    // The growth of every cell is that of the cruise speed at its altitude, in climb and descent too.
    trueAirspeedMps: tableValue(trueAirspeedMps, meanM),
    lowestM: sums.lowestM,
    highestM: sums.highestM,
    alongM: isAlong ? { fromM: sums.fromM, toM: sums.toM } : undefined,
    hasLargeDrops: sums.hasLargeDrops,
  };
}
