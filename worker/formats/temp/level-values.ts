/** From the groups of one TEMP level to its record: each figure that the code does not have is told and left missing. */
import type { Rejection } from '../sounding.ts';
import { type LevelRecord, type LostStretch, MOST_WIND_SPEED_MPS } from '../sounding-levels.ts';
import { type HeightChoice, temperatureGroup, windGroup } from './code-figures.ts';
import type { Group } from './reports.ts';
import type { TrailingSections } from './trailing-sections.ts';

/** One level as a part gives it; a standard level's height is still to be chosen. */
export interface TempLevel {
  readonly kind: 'surface' | 'standard' | 'other';
  /** `geopotentialHeightM` is NaN here. */
  readonly record: LevelRecord;
  /** Heights that the figures of a standard level may mean, the likeliest first; empty when there are none. */
  readonly heightChoices: readonly HeightChoice[];
}

/** Levels of one kind that follow each other, and the groups that were not used. */
export interface RunLevels {
  readonly levels: readonly TempLevel[];
  readonly rejected: readonly Rejection[];
  /** Index of the first group after them. */
  readonly end: number;
}

/** The levels of one part, the groups that were not used, and what stands behind the levels. */
export interface PartLevels {
  readonly levels: readonly TempLevel[];
  readonly rejected: readonly Rejection[];
  readonly sections: TrailingSections;
  /** Where significant levels of temperature were lost; empty for a part of standard levels. */
  readonly lost: readonly LostStretch[];
  /** Pressure of the highest significant level of temperature, Pa; Infinity where there is none. */
  readonly reachPa: number;
}

/** The groups that a level may bring; a level without one of them lacks that quantity. */
export interface LevelGroups {
  /** The group that opens the level: where a fault is told. */
  readonly indicator: Group;
  readonly pressurePa: number;
  readonly temperature?: Group | undefined;
  readonly wind?: Group | undefined;
}

/**
 * The record of a level.
 *
 * @param speedUnitMps  m/s in one unit of the report's wind speeds.
 * @param rejected      takes the faults found.
 */
export function levelRecord(groups: LevelGroups, speedUnitMps: number, rejected: Rejection[]): LevelRecord {
  const place = `${groups.pressurePa / 100} hPa`;
  const air = decoded(groups.temperature, temperatureGroup, {
    rejected,
    expected: `temperature at ${place}, TTTDD`,
  });
  const wind = decoded(groups.wind, windGroup, { rejected, expected: `wind at ${place}, dddff` });
  const speedMps = (wind?.speed ?? Number.NaN) * speedUnitMps;
  // Direction and speed share a group: an absurd speed condemns the direction too.
  const isAbsurd = speedMps > MOST_WIND_SPEED_MPS;
  if (isAbsurd && groups.wind !== undefined)
    rejected.push(badGroup(groups.wind, `wind at ${place}, at most ${MOST_WIND_SPEED_MPS} m/s`));
  return {
    line: groups.indicator.line,
    pressurePa: groups.pressurePa,
    geopotentialHeightM: Number.NaN,
    temperatureK: air?.temperatureK ?? Number.NaN,
    dewPointK: air?.dewPointK ?? Number.NaN,
    windDirectionDeg: isAbsurd ? Number.NaN : (wind?.directionDeg ?? Number.NaN),
    windSpeedMps: isAbsurd ? Number.NaN : speedMps,
  };
}

function decoded<T>(
  group: Group | undefined,
  decode: (text: string) => T | undefined,
  told: { readonly rejected: Rejection[]; readonly expected: string },
): T | undefined {
  if (group === undefined) return undefined;
  const values = decode(group.text);
  if (values === undefined) told.rejected.push(badGroup(group, told.expected));
  return values;
}

/** A group that the code does not have where it stands. */
export function badGroup(group: Group, expected: string): Rejection {
  return {
    line: group.line,
    reason: `group: found ${JSON.stringify(group.text.slice(0, 20))}, expected ${expected}`,
  };
}

/** Opens a section after the levels: 21212, 31313, 41414, 51515 to 59595 (regional), 61616 to 69696 (national). */
export function isSectionMark(text: string): boolean {
  return /^(?:21212|31313|41414|([56])(?!\1)(\d)\1\2\1)$/.test(text);
}
