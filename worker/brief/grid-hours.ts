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
  /** The instant is one of the two, or lies between them with no hour of the model's lost; else a run that has both is better. */
  readonly isBracketed: boolean;
}

/** The leg's own time, and how far around it the stores are read, epoch ms. */
export interface LegTimes {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The hours of a run near a leg, by valid time. */
export interface Run {
  readonly hours: readonly GridHour[];
  /** Hours further apart than this lack one between them that the model has in other runs, ms. */
  readonly stepMs: number;
}

/**
 * Runs that have an hour near the leg, best first: those with an hour before, an hour after and none missing between before
 * those that have only a part, so that a run that is still coming in leaves the leg to the last complete one; then by what
 * they are worth (`worthMs`), then by model and operator.
 */
export function runsBestFirst(hours: readonly GridHour[], leg: LegTimes, reachMs = GRID_TOLERANCE_MS): Run[] {
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
      ({ run: runA, isWhole: isWholeA }, { run: runB, isWhole: isWholeB }) =>
        Number(isWholeB) - Number(isWholeA) ||
        worthMs(runB) - worthMs(runA) ||
        compareText(runA[0]!.model, runB[0]!.model) ||
        compareText(runA[0]!.operator, runB[0]!.operator),
    )
    .map(({ run }) => ({ hours: run, stepMs: stepMs(run[0]!) }));
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
function worthMs(run: readonly GridHour[]): number {
  const { runMs, spacingM } = run[0]!;
  const hasCloudWater = run.every((hour) => hour.hasCloudWater);
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
export function covers(run: readonly GridHour[], { fromMs, toMs }: LegTimes, mostGapMs: number): boolean {
  const serving = servingHours(run, fromMs, toMs);
  if (serving.length === 0 || serving[0]!.validMs > fromMs || serving.at(-1)!.validMs < toMs) return false;
  return serving.every(
    (hour, index) => index === 0 || hour.validMs - serving[index - 1]!.validMs <= mostGapMs,
  );
}

const compareText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

/** @returns the hours to use at an instant, or undefined when none is within the tolerance. */
export function hoursAt({ hours, stepMs }: Run, instantMs: number): HourPair | undefined {
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
    const offsetMs = Math.max(gapMs(before), gapMs(after));
    return { before, after, laterShare, offsetMs, isBracketed: spanMs <= stepMs };
  }
  const nearest = gapMs(before) <= gapMs(after) ? before : after;
  if (!(gapMs(nearest) <= GRID_TOLERANCE_MS)) return undefined;
  return { before: nearest, after: nearest, laterShare: 0, offsetMs: gapMs(nearest), isBracketed: false };
}

/**
 * Between two hours of one grid, level by level: temperature and relative humidity (not mixing ratio) linear in time. Isobaric
 * levels of one hour that lie under the other's ground are left out: the ground's own level lies beside them. A level that one
 * hour has lost is missing, as is a value missing in either. Hours that share too few levels are not mixed: the nearer one serves.
 * Rain as a whole, and freezing rain at the ground, are those of the hour that has them.
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
    Float64Array.from(pairs, ([one, other]) => {
      if (one === undefined || other === undefined) return Number.NaN;
      return a[one]! + (b[other]! - a[one]!) * laterShare;
    });
  /** Where a level lies is known from the hour that has it. */
  const place = (a: Float64Array, b: Float64Array) =>
    Float64Array.from(pairs, ([one, other]) => {
      if (one === undefined) return b[other!]!;
      return other === undefined ? a[one]! : a[one]! + (b[other]! - a[one]!) * laterShare;
    });
  const only = (values: Float64Array | undefined, side: 0 | 1) =>
    values && Float64Array.from(pairs, (pair) => values[pair[side] ?? -1] ?? Number.NaN);
  const rainKgPerKg =
    before.rainKgPerKg && after.rainKgPerKg
      ? mix(before.rainKgPerKg, after.rainKgPerKg)
      : (only(before.rainKgPerKg, 0) ?? only(after.rainKgPerKg, 1));
  return {
    levelCount: pairs.length,
    pressurePa: place(before.pressurePa, after.pressurePa),
    geopotentialHeightM: place(before.geopotentialHeightM, after.geopotentialHeightM),
    temperatureK: mix(before.temperatureK, after.temperatureK),
    relativeHumidityRatio: mix(before.relativeHumidityRatio, after.relativeHumidityRatio),
    windEastMps: mix(before.windEastMps, after.windEastMps),
    windNorthMps: mix(before.windNorthMps, after.windNorthMps),
    verticalVelocityPaPerS: mix(before.verticalVelocityPaPerS, after.verticalVelocityPaPerS),
    condensateKgPerKg: mix(before.condensateKgPerKg, after.condensateKgPerKg),
    condensateBasis: before.condensateBasis,
    ...(rainKgPerKg === undefined ? {} : { rainKgPerKg }),
    freezingRainRatio: mixedShare(before.freezingRainRatio, after.freezingRainRatio, laterShare),
    ...(before.cloudSaturation === undefined ? {} : { cloudSaturation: before.cloudSaturation }),
    ...(before.cloudFractionRatio === undefined || after.cloudFractionRatio === undefined
      ? {}
      : { cloudFractionRatio: mix(before.cloudFractionRatio, after.cloudFractionRatio) }),
    surfaceHeightM: before.surfaceHeightM + (after.surfaceHeightM - before.surfaceHeightM) * laterShare,
  };
}

/** What one hour does not say clears nothing of the other's. */
function mixedShare(before = Number.NaN, after = Number.NaN, laterShare: number): number {
  if (Number.isNaN(before)) return after;
  return Number.isNaN(after) ? before : before + (after - before) * laterShare;
}

/** Indices of one level in both hours; undefined in the one that has lost it. */
type LevelPair = readonly [before: number | undefined, after: number | undefined];

/** A level of the model's own moves by less than this in ln p between two hours, with the pressure of the ground. */
const MODEL_LEVEL_MOVE = 0.05;

function sameNumbers(a: Profile, b: Profile): LevelPair[] | undefined {
  if (a.levelCount !== b.levelCount) return undefined;
  const isMoved = a.pressurePa.some(
    (pressurePa, level) => Math.abs(Math.log(pressurePa / b.pressurePa[level]!)) >= MODEL_LEVEL_MOVE,
  );
  return isMoved ? undefined : Array.from(a.pressurePa, (_, level) => [level, level] as const);
}

/** With a greater share of levels lost on either side the two are not of one list of levels. */
const MOST_LOST_RATIO = 0.25;
/** The ground's pressure moves by less than this in ln p between two hours; else a first level is lost. */
const GROUND_MOVE = 0.02;

/** The first level is the ground's, whatever its pressure; the others are paired by theirs, from the ground up. */
function samePressures(a: Profile, b: Profile): LevelPair[] | undefined {
  if (a.levelCount === 0 || b.levelCount === 0) return undefined;
  if (Math.abs(Math.log(a.pressurePa[0]! / b.pressurePa[0]!)) >= GROUND_MOVE) return undefined;
  const pairs: LevelPair[] = [[0, 0]];
  let lost = 0;
  let [one, other] = [1, 1];
  while (one < a.levelCount || other < b.levelCount) {
    const onePa = a.pressurePa[one] ?? Number.NEGATIVE_INFINITY;
    const otherPa = b.pressurePa[other] ?? Number.NEGATIVE_INFINITY;
    const lowerPa = Math.max(onePa, otherPa);
    const pair = [onePa === lowerPa ? one : undefined, otherPa === lowerPa ? other : undefined] as const;
    const isShared = onePa === otherPa;
    const isUnderGround = lowerPa >= (pair[0] === undefined ? a : b).pressurePa[0]!;
    if (isShared || !isUnderGround) pairs.push(pair);
    if (!isShared && !isUnderGround) lost += 1;
    one += Number(pair[0] !== undefined);
    other += Number(pair[1] !== undefined);
  }
  return lost <= MOST_LOST_RATIO * pairs.length && pairs.length > 1 ? pairs : undefined;
}
