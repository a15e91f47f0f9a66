/** Where the levels of an ascent lie: heights chosen, one surface level kept, levels under the ground left out. */
import type { Rejection } from '../sounding.ts';
import type { LevelRecord } from '../sounding-levels.ts';
import { chooseHeights } from './heights.ts';
import type { TempLevel } from './level-values.ts';

/**
 * Records with their heights, in the order of the levels.
 *
 * @param stationM  elevation of the station, m; NaN when not known. It comes back as NaN when every surface level
 *                  reported disagrees with the heights above it.
 */
export function placedLevels(
  levels: readonly TempLevel[],
  stationM: number,
): { records: LevelRecord[]; elevationM: number; rejected: Rejection[] } {
  const heights = chooseHeights(levels, stationM);
  const rejected = [...heights.rejected];
  const surfaces = levels.filter(({ kind }) => kind === 'surface').map(({ record }) => record);
  const surface = surfaces.find(({ pressurePa }) => !heights.refusedSurfacesPa.has(pressurePa));
  // A surface that fits no height above it makes the elevation itself doubtful.
  const elevationM = surfaces.length > 0 && surface === undefined ? Number.NaN : stationM;
  const records: LevelRecord[] = [];
  for (const level of levels) {
    const { pressurePa, line } = level.record;
    const heightM =
      level.kind === 'surface' ? elevationM : standardHeightM(level, heights.standardHeightM, rejected);
    if (level.kind === 'surface' && pressurePa !== surface?.pressurePa) {
      if (!heights.refusedSurfacesPa.has(pressurePa)) rejected.push(secondSurface(level.record, surface));
      continue;
    }
    const isUnderground = surface === undefined ? heightM < elevationM : pressurePa > surface.pressurePa;
    if (!isUnderground) records.push({ ...level.record, geopotentialHeightM: heightM });
    else if (hasValues(level.record)) {
      rejected.push({
        line,
        reason: `level ${pressurePa / 100} hPa: found temperature or wind under the ground, expected slashes`,
      });
    }
  }
  return { records, elevationM, rejected };
}

/** The height that stands for a standard level; a second report's other height is told and not used. */
function standardHeightM(
  level: TempLevel,
  standing: ReadonlyMap<number, number>,
  rejected: Rejection[],
): number {
  const heightM = standing.get(level.record.pressurePa);
  if (heightM === undefined || level.heightChoices.length === 0) return Number.NaN;
  if (level.heightChoices.some((choice) => choice.heightM === heightM)) return heightM;
  rejected.push({
    line: level.record.line,
    reason: `height at ${level.record.pressurePa / 100} hPa: found ${level.heightChoices[0]!.heightM} m, expected ${heightM} m as reported before`,
  });
  return Number.NaN;
}

function secondSurface(record: LevelRecord, surface: LevelRecord | undefined): Rejection {
  return {
    line: record.line,
    reason: `surface level: found ${record.pressurePa / 100} hPa, expected ${(surface?.pressurePa ?? Number.NaN) / 100} hPa as reported before`,
  };
}

function hasValues(record: LevelRecord): boolean {
  return !Number.isNaN(record.temperatureK) || !Number.isNaN(record.windSpeedMps);
}
