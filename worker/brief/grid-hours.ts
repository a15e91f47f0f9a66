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
 * Runs that have an hour near the window: those that have hours for all of it first, newest run first; then those that have
 * a part, newest first. A run that is still coming in so leaves the leg to the last complete one. Of equal run times the
 * first by model and operator.
 *
 * @returns each run's hours that serve the window, by valid time.
 */
export function runsBestFirst(
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
    .map((run) => ({ run, isWhole: covers(run, fromMs, toMs) }))
    .sort(
      ({ run: [a], isWhole: isWholeA }, { run: [b], isWhole: isWholeB }) =>
        Number(isWholeB) - Number(isWholeA) ||
        b!.runMs - a!.runMs ||
        compareText(a!.model, b!.model) ||
        compareText(a!.operator, b!.operator),
    )
    .map(({ run }) => run);
}

/** From the last hour at or before the window to the first at or after it: what lies outside is never read. */
function servingHours(run: readonly GridHour[], fromMs: number, toMs: number): readonly GridHour[] {
  const first = Math.max(
    0,
    run.findLastIndex((hour) => hour.validMs <= fromMs),
  );
  const last = run.findIndex((hour) => hour.validMs >= toMs);
  return run.slice(first, last < 0 ? run.length : Math.max(last, first) + 1);
}

/** Both ends lie within the run's hours, and no two of these are too far apart to be bridged. */
function covers(run: readonly GridHour[], fromMs: number, toMs: number): boolean {
  const isAround = run[0]!.validMs <= fromMs && run.at(-1)!.validMs >= toMs;
  return (
    isAround &&
    run.every((hour, index) => index === 0 || hour.validMs - run[index - 1]!.validMs <= GRID_TOLERANCE_MS)
  );
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
 *
 * @param isModelLevels  the levels are the model's own: each is the same level in both hours, though its pressure moves.
 */
export function blendProfiles(
  before: Profile,
  after: Profile,
  laterShare: number,
  isModelLevels = false,
): Profile {
  const nearer = laterShare < 0.5 ? before : after;
  const isMixed = laterShare !== 0 && before !== after && isSameLevels(before, after, isModelLevels);
  if (!isMixed) return nearer;
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

/** A level of the model's own moves by less than this in ln p between two hours, with the pressure of the ground. */
const MODEL_LEVEL_MOVE = 0.05;

/** Equal isobaric levels; the ground's own pressure, the first level, may differ a little between hours. */
function isSameLevels(a: Profile, b: Profile, isModelLevels: boolean): boolean {
  if (a.levelCount !== b.levelCount || a.condensateBasis !== b.condensateBasis) return false;
  if (isModelLevels) {
    return a.pressurePa.every(
      (pressurePa, level) => Math.abs(Math.log(pressurePa / b.pressurePa[level]!)) < MODEL_LEVEL_MOVE,
    );
  }
  return a.pressurePa.every((pressurePa, level) => level === 0 || pressurePa === b.pressurePa[level]);
}
