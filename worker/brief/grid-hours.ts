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
  /** The instant lies between the two, or is one of them; else the nearer hour stands for it. */
  readonly isBracketed: boolean;
}

/** The leg's own time, and how far around it the stores are read, epoch ms. */
export interface LegTimes {
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * Runs that have an hour near the leg, best first: those with an hour before, an hour after and none missing between before
 * those that have only a part, so that a run that is still coming in leaves the leg to the last complete one; then by what
 * they are worth (`worthMs`), then by model and operator.
 *
 * @returns each run's hours near the leg, by valid time.
 */
export function runsBestFirst(
  hours: readonly GridHour[],
  leg: LegTimes,
  reachMs = GRID_TOLERANCE_MS,
): (readonly GridHour[])[] {
  const runs = new Map<string, GridHour[]>();
  for (const hour of hours) {
    if (hour.validMs < leg.fromMs - reachMs || hour.validMs > leg.toMs + reachMs) continue;
    const key = `${hour.runMs} ${hour.model} ${hour.operator}`;
    runs.set(key, [...(runs.get(key) ?? []), hour]);
  }
  const sorted = [...runs.values()].map((run) => run.sort((a, b) => a.validMs - b.validMs));
  const stepMs = stepOfModels(sorted);
  return sorted
    .map((run) => ({ run, isWhole: covers(run, leg, stepMs(run[0]!)) }))
    .sort(
      ({ run: [a], isWhole: isWholeA }, { run: [b], isWhole: isWholeB }) =>
        Number(isWholeB) - Number(isWholeA) ||
        worthMs(b!) - worthMs(a!) ||
        compareText(a!.model, b!.model) ||
        compareText(a!.operator, b!.operator),
    )
    .map(({ run }) => run);
}

/** The least step between hours of a model in any of its runs: wider gaps are hours that did not come. */
function stepOfModels(runs: readonly (readonly GridHour[])[]): (hour: GridHour) => number {
  const steps = new Map<string, number>();
  const keyOf = ({ model, operator }: GridHour) => `${model} ${operator}`;
  for (const run of runs) {
    run.forEach((hour, index) => {
      const gapMs = index === 0 ? GRID_TOLERANCE_MS : hour.validMs - run[index - 1]!.validMs;
      steps.set(keyOf(hour), Math.min(gapMs, steps.get(keyOf(hour)) ?? GRID_TOLERANCE_MS));
    });
  }
  return (hour) => steps.get(keyOf(hour)) ?? GRID_TOLERANCE_MS;
}

/** A model without cloud water must be so much newer than one with it (judgement: it leaves the physics to guess from humidity). */
const CLOUD_WATER_WORTH_MS = 6 * 3_600_000;
/** A model must be so much newer than one of half its spacing (judgement). */
const HALF_SPACING_WORTH_MS = 1.5 * 3_600_000;
/** Finer than this brings nothing more to an icing layer, m. */
const FINE_SPACING_M = 3000;

/** The start of a run, earlier for what its model lacks: runs of different models are compared by it. */
function worthMs({ runMs, spacingM, hasCloudWater }: GridHour): number {
  const doublings = Math.log2(Math.max(1, spacingM / FINE_SPACING_M));
  return runMs - (hasCloudWater ? 0 : CLOUD_WATER_WORTH_MS) - doublings * HALF_SPACING_WORTH_MS;
}

/** Of hours by valid time: from the last one at or before a window to the first at or after it. */
export function servingHours(run: readonly GridHour[], fromMs: number, toMs: number): readonly GridHour[] {
  const first = Math.max(
    0,
    run.findLastIndex((hour) => hour.validMs <= fromMs),
  );
  const last = run.findIndex((hour) => hour.validMs >= toMs);
  return run.slice(first, last < 0 ? run.length : Math.max(last, first) + 1);
}

/** Both ends lie within the run's hours, and no two of these are farther apart than may be bridged. */
export function covers(
  run: readonly GridHour[],
  { fromMs, toMs }: LegTimes,
  mostGapMs = GRID_TOLERANCE_MS,
): boolean {
  const serving = servingHours(run, fromMs, toMs);
  if (serving.length === 0 || serving[0]!.validMs > fromMs || serving.at(-1)!.validMs < toMs) return false;
  return serving.every(
    (hour, index) => index === 0 || hour.validMs - serving[index - 1]!.validMs <= mostGapMs,
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
    return { before, after, laterShare, offsetMs: Math.max(gapMs(before), gapMs(after)), isBracketed: true };
  }
  const nearest = gapMs(before) <= gapMs(after) ? before : after;
  if (!(gapMs(nearest) <= GRID_TOLERANCE_MS)) return undefined;
  return { before: nearest, after: nearest, laterShare: 0, offsetMs: gapMs(nearest), isBracketed: false };
}

/**
 * Between two hours of one grid, level by level: temperature and relative humidity (not mixing ratio) linear in time. Isobaric
 * levels that only one hour has (the ground's pressure passed them) are left out: the ground's own level lies beside them.
 * Hours that share too few levels are not mixed: the nearer one serves. A value missing in either is missing.
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
  if (laterShare === 0 || before === after || before.condensateBasis !== after.condensateBasis) return nearer;
  const pairs = isModelLevels ? sameNumbers(before, after) : samePressures(before, after);
  if (pairs === undefined) return nearer;
  const mix = (a: Float64Array, b: Float64Array) =>
    Float64Array.from(pairs, ([one, other]) => a[one]! + (b[other]! - a[one]!) * laterShare);
  return {
    levelCount: pairs.length,
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

type LevelPair = readonly [before: number, after: number];

/** A level of the model's own moves by less than this in ln p between two hours, with the pressure of the ground. */
const MODEL_LEVEL_MOVE = 0.05;

function sameNumbers(a: Profile, b: Profile): LevelPair[] | undefined {
  if (a.levelCount !== b.levelCount) return undefined;
  const isMoved = a.pressurePa.some(
    (pressurePa, level) => Math.abs(Math.log(pressurePa / b.pressurePa[level]!)) >= MODEL_LEVEL_MOVE,
  );
  return isMoved ? undefined : Array.from(a.pressurePa, (_, level) => [level, level]);
}

/** An hour may lack so many of the other's levels next to the ground. */
const MOST_LEVELS_PASSED = 2;

/** The first level is the ground's, whatever its pressure; the others are paired by theirs. */
function samePressures(a: Profile, b: Profile): LevelPair[] | undefined {
  const levelOf = new Map(Array.from(b.pressurePa, (pressurePa, level) => [pressurePa, level]));
  const pairs: LevelPair[] = a.levelCount > 0 && b.levelCount > 0 ? [[0, 0]] : [];
  for (let level = 1; level < a.levelCount; level += 1) {
    const other = levelOf.get(a.pressurePa[level]!);
    if (other !== undefined && other > 0) pairs.push([level, other]);
  }
  const passed = a.levelCount + b.levelCount - 2 * pairs.length;
  return passed <= MOST_LEVELS_PASSED && pairs.length > 1 ? pairs : undefined;
}
