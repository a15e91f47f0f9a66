/** Several messages may tell of one balloon: the finest of them speaks. Pure. */
import type { StoredSounding } from '../sources/ports.ts';

/** Two ascents of one station closer than this are one balloon: a nominal hour is up to an hour after the release. */
const ONE_LAUNCH_MS = 90 * 60_000;
/** IGRA names a station of the WMO by country, network M and its number. */
const IGRA_OF_WMO = /^[A-Z]{2}M000(\d{5})$/;

/**
 * One ascent a balloon: of those of one station and operator within an hour and a half the one with most levels that have
 * temperature and dew point; of equal ones the one stored last.
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

const stationOf = ({ operator, stationId }: StoredSounding): string =>
  `${operator} ${IGRA_OF_WMO.exec(stationId)?.[1] ?? stationId}`;

const isOneLaunch = (a: StoredSounding, b: StoredSounding): boolean =>
  Math.abs(madeMs(a) - madeMs(b)) <= ONE_LAUNCH_MS;

function finestFirst(a: StoredSounding, b: StoredSounding): number {
  return levelsWithAir(b) - levelsWithAir(a) || b.ingestedMs - a.ingestedMs;
}

function levelsWithAir({ levels }: StoredSounding): number {
  return levels.temperatureK.reduce(
    (count, temperatureK, level) => count + Number(!Number.isNaN(temperatureK + levels.dewPointK[level]!)),
    0,
  );
}
