/** Which published hours serve a leg, and a point's column between two of them. Pure. */
import type { Profile } from '../science/columns.ts';
import type { GridHour } from '../sources/ports.ts';

/** A lone hour, or the nearest one, serves this far from its valid time; further it is too old. */
export const GRID_TOLERANCE_MS = 6 * 3_600_000;

/** The hour before and the hour after an instant with the share of the later one; equal when only one serves. */
export interface HourPair {
  readonly before: number;
  readonly after: number;
  readonly laterShare: number;
  /** Largest difference from the instant to an hour that is used, ms. */
  readonly offsetMs: number;
}

/**
 * Runs that have an hour near the window, newest first; of equal run times the first by model and operator.
 *
 * @returns each run's hours that serve the window, by valid time.
 */
export function runsNewestFirst(
  hours: readonly GridHour[],
  fromMs: number,
  toMs: number,
): (readonly GridHour[])[] {
  const runs = new Map<string, GridHour[]>();
  for (const hour of hours) {
    if (hour.validMs < fromMs - GRID_TOLERANCE_MS || hour.validMs > toMs + GRID_TOLERANCE_MS) continue;
    const key = `${hour.runMs} ${hour.model} ${hour.operator}`;
    runs.set(key, [...(runs.get(key) ?? []), hour]);
  }
  return [...runs.values()]
    .map((run) =>
      servingHours(
        run.sort((a, b) => a.validMs - b.validMs),
        fromMs,
        toMs,
      ),
    )
    .sort(
      ([a], [b]) =>
        b!.runMs - a!.runMs || compareText(a!.model, b!.model) || compareText(a!.operator, b!.operator),
    );
}

/** Of hours by valid time those that hoursAt may use in the window: to the last one before it, and to the first one after it. */
function servingHours(hours: readonly GridHour[], fromMs: number, toMs: number): readonly GridHour[] {
  const first = hours.findLastIndex(({ validMs }) => validMs <= fromMs);
  const last = hours.findIndex(({ validMs }) => validMs >= toMs);
  return hours.slice(Math.max(0, first), last < 0 ? hours.length : last + 1);
}

const compareText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** @returns the hours to use at an instant, or undefined when none is within the tolerance. */
export function hoursAt(hours: readonly GridHour[], instantMs: number): HourPair | undefined {
  let before = -1;
  let after = -1;
  hours.forEach((hour, index) => {
    if (hour.validMs <= instantMs) before = index;
    if (hour.validMs >= instantMs && after < 0) after = index;
  });
  const gapMs = (index: number) =>
    index < 0 ? Number.POSITIVE_INFINITY : Math.abs(hours[index]!.validMs - instantMs);
  if (before >= 0 && after >= 0 && Math.max(gapMs(before), gapMs(after)) <= GRID_TOLERANCE_MS) {
    const spanMs = hours[after]!.validMs - hours[before]!.validMs;
    const laterShare = spanMs === 0 ? 0 : gapMs(before) / spanMs;
    return { before, after, laterShare, offsetMs: Math.max(gapMs(before), gapMs(after)) };
  }
  const nearest = gapMs(before) <= gapMs(after) ? before : after;
  if (!(gapMs(nearest) <= GRID_TOLERANCE_MS)) return undefined;
  return { before: nearest, after: nearest, laterShare: 0, offsetMs: gapMs(nearest) };
}

/**
 * Between two hours of one grid, level by level: temperature and relative humidity (not mixing ratio) linear in time.
 * Hours whose levels differ are not mixed: the nearer one serves. A value missing in either is missing.
 */
export function blendProfiles(before: Profile, after: Profile, laterShare: number): Profile {
  const nearer = laterShare < 0.5 ? before : after;
  if (laterShare === 0 || before === after || !isSameLevels(before, after)) return nearer;
  const mix = (a: Float64Array, b: Float64Array) =>
    Float64Array.from(a, (value, level) => value + (b[level]! - value) * laterShare);
  return {
    levelCount: before.levelCount,
    pressurePa: mix(before.pressurePa, after.pressurePa),
    geopotentialHeightM: mix(before.geopotentialHeightM, after.geopotentialHeightM),
    temperatureK: mix(before.temperatureK, after.temperatureK),
    relativeHumidityRatio: mix(before.relativeHumidityRatio, after.relativeHumidityRatio),
    windEastMps: mix(before.windEastMps, after.windEastMps),
    windNorthMps: mix(before.windNorthMps, after.windNorthMps),
    verticalVelocityPaPerS: mix(before.verticalVelocityPaPerS, after.verticalVelocityPaPerS),
    condensateKgPerKg: mix(before.condensateKgPerKg, after.condensateKgPerKg),
    condensateBasis: before.condensateBasis,
    ...(before.cloudSaturation === undefined ? {} : { cloudSaturation: before.cloudSaturation }),
    ...(before.cloudFractionRatio === undefined || after.cloudFractionRatio === undefined
      ? {}
      : { cloudFractionRatio: mix(before.cloudFractionRatio, after.cloudFractionRatio) }),
    surfaceHeightM: before.surfaceHeightM + (after.surfaceHeightM - before.surfaceHeightM) * laterShare,
  };
}

/** Equal isobaric levels; the ground's own pressure, the first level, may differ a little between hours. */
function isSameLevels(a: Profile, b: Profile): boolean {
  if (a.levelCount !== b.levelCount || a.condensateBasis !== b.condensateBasis) return false;
  return a.pressurePa.every((pressurePa, level) => level === 0 || pressurePa === b.pressurePa[level]);
}
