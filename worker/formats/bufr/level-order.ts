/** The levels of an ascent put in one order: pressures falling, time running one way, each pressure once. */
import type { Rejection } from '../sounding.ts';
import { indexesOutOfOrder, type LevelRecord } from '../sounding-levels.ts';

/** A level that may stand in an ascent: its record, why it was sent, and when it was met. */
export interface PlacedLevel {
  /** `line` is the level's number in the message. */
  readonly record: LevelRecord;
  /** Flags of 0 08 042. */
  readonly significance: number;
  /** Since the launch, s; NaN where the message does not say. */
  readonly elapsedS: number;
}

export interface OrderedLevels {
  readonly levels: readonly PlacedLevel[];
  readonly rejected: readonly Rejection[];
}

/**
 * Sorts by pressure, the highest first. Where the message was not so already, levels whose time runs against that of the
 * most others are left out: those of the way down after the burst, or of a balloon that sank for a while. A sonde that was
 * dropped is turned round. Never throws.
 */
export function inOrder(levels: readonly PlacedLevel[]): OrderedLevels {
  const upward = [...levels];
  const turned = levels.toReversed();
  if (isInOrder(upward)) return { levels: upward, rejected: [] };
  if (isInOrder(turned)) return { levels: turned, rejected: [] };
  // In an ascent the time grows upward: turned round, it must never rise from level to level.
  const ascent = inTimeOrder(upward, -1);
  const descent = inTimeOrder(turned, 1);
  return ascent.rejected.length <= descent.rejected.length ? ascent : descent;
}

function isInOrder(levels: readonly PlacedLevel[]): boolean {
  return levels.every(
    ({ record }, index) => index === 0 || record.pressurePa <= levels[index - 1]!.record.pressurePa,
  );
}

function inTimeOrder(levels: readonly PlacedLevel[], sign: 1 | -1): OrderedLevels {
  const sorted = levels.toSorted((a, b) => b.record.pressurePa - a.record.pressurePa);
  const timed = sorted.filter(({ elapsedS }) => !Number.isNaN(elapsedS));
  const against = indexesOutOfOrder(timed.map(({ elapsedS }) => sign * elapsedS));
  const dropped = new Set(against.map((index) => timed[index]!));
  return {
    levels: sorted.filter((level) => !dropped.has(level)),
    rejected: [...dropped].map(({ record, elapsedS }) => ({
      line: record.line,
      reason: `time at ${record.pressurePa / 100} hPa: found ${elapsedS} s, expected one between those of the levels below and above`,
    })),
  };
}

/**
 * Levels of the same coded pressure become one: of temperature and dew point the moistest pair stands, so that no moist
 * level is lost to the step of coding, and wind and height are the first that are there. Never throws.
 *
 * @param levels  in order of pressure.
 */
export function oneAPressure(levels: readonly PlacedLevel[]): OrderedLevels {
  const kept: PlacedLevel[] = [];
  let run: PlacedLevel[] = [];
  let mergedCount = 0;
  let firstMerged: LevelRecord | undefined;
  const close = (): void => {
    if (run.length > 1) firstMerged ??= run[1]!.record;
    mergedCount += Math.max(0, run.length - 1);
    if (run.length > 0) kept.push(run.length === 1 ? run[0]! : mergedLevel(run));
    run = [];
  };
  for (const level of levels) {
    if (run.length > 0 && run[0]!.record.pressurePa !== level.record.pressurePa) close();
    run.push(level);
  }
  close();
  return { levels: kept, rejected: firstMerged === undefined ? [] : [mergedNote(firstMerged, mergedCount)] };
}

function mergedLevel(run: readonly PlacedLevel[]): PlacedLevel {
  const air = run.map(({ record }) => record).reduce(moister);
  const wind =
    run.find(({ record }) => !Number.isNaN(record.windDirectionDeg + record.windSpeedMps)) ?? run[0]!;
  const high = run.find(({ record }) => !Number.isNaN(record.geopotentialHeightM)) ?? run[0]!;
  return {
    significance: run.reduce((flags, level) => flags | level.significance, 0),
    elapsedS: run[0]!.elapsedS,
    record: {
      ...air,
      geopotentialHeightM: high.record.geopotentialHeightM,
      windDirectionDeg: wind.record.windDirectionDeg,
      windSpeedMps: wind.record.windSpeedMps,
    },
  };
}

/** The one with the lesser dew-point depression; one that has a dew point, or a temperature, before one that has not. */
function moister(a: LevelRecord, b: LevelRecord): LevelRecord {
  const [depressionA, depressionB] = [a.temperatureK - a.dewPointK, b.temperatureK - b.dewPointK];
  if (!Number.isNaN(depressionA) && !Number.isNaN(depressionB)) return depressionB < depressionA ? b : a;
  if (Number.isNaN(depressionA) && Number.isNaN(depressionB)) return Number.isNaN(a.temperatureK) ? b : a;
  return Number.isNaN(depressionA) ? b : a;
}

function mergedNote(first: LevelRecord, count: number): Rejection {
  return {
    line: first.line,
    reason: `levels: found ${count} at the pressure of the level before, the first at ${first.pressurePa / 100} hPa, expected one a pressure; the moistest of each is used`,
  };
}
