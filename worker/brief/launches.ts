/** Several messages may tell of one balloon: the finest of them speaks. Pure. */
import type { StoredSounding } from '../sources/ports.ts';

/** Two ascents of one station closer than this are one balloon: a nominal hour is up to an hour after the release. */
const ONE_LAUNCH_MS = 90 * 60_000;
/** IGRA names a station of the WMO by country, network M and its number. */
const IGRA_OF_WMO = /^[A-Z]{2}M000(\d{5})$/;

/** An ascent that ends below this, Pa, is a part of one. */
const WHOLE_ASCENT_PA = 32_000;

/**
 * One ascent a balloon: of those of one station within an hour and a half, whoever loaded them, a whole one before one that ends
 * low; then the one with most levels that have temperature and dew point, then the one stored last.
 */
export function oneALaunch(soundings: readonly StoredSounding[]): StoredSounding[] {
  const kept: StoredSounding[] = [];
  for (const one of soundings.toSorted(finestFirst)) {
    const isTold = kept.some((finer) => stationOf(finer) === stationOf(one) && isOneLaunch(finer, one));
    if (!isTold) kept.push(one);
  }
  return soundings.filter((one) => kept.includes(one));
}

/** When the balloon went up; the nominal time, up to an hour later, only where the release is not told. */
export function madeMs({ releaseMs, timeMs }: StoredSounding): number {
  return Number.isNaN(releaseMs) ? timeMs : releaseMs;
}

/** The number of the WMO where the name holds it. */
export const stationOf = ({ stationId }: StoredSounding): string =>
  IGRA_OF_WMO.exec(stationId)?.[1] ?? stationId;

const isOneLaunch = (a: StoredSounding, b: StoredSounding): boolean =>
  Math.abs(madeMs(a) - madeMs(b)) <= ONE_LAUNCH_MS;

function finestFirst(a: StoredSounding, b: StoredSounding): number {
  const [airA, airB] = [airOf(a), airOf(b)];
  return (
    Number(airB.isWhole) - Number(airA.isWhole) || airB.count - airA.count || b.ingestedMs - a.ingestedMs
  );
}

/** Levels with temperature and dew point, and whether they reach the upper troposphere. */
function airOf({ levels }: StoredSounding): { readonly count: number; readonly isWhole: boolean } {
  let count = 0;
  let topPa = Number.POSITIVE_INFINITY;
  levels.pressurePa.forEach((pressurePa, level) => {
    if (Number.isNaN(levels.temperatureK[level]! + levels.dewPointK[level]!)) return;
    count += 1;
    topPa = Math.min(topPa, pressurePa);
  });
  return { count, isWhole: topPa <= WHOLE_ASCENT_PA };
}
