/** Parts B and D: significant levels of temperature, and of wind after 21212. */
import type { Rejection } from '../sounding.ts';
import { indexesOutOfOrder, type LostStretch, pressureFault, stretchesBetween } from '../sounding-levels.ts';
import { pressurePa } from './code-figures.ts';
import type { ReportHeader } from './header.ts';
import { type RunRules, readRun } from './level-run.ts';
import {
  badGroup,
  isSectionMark,
  levelRecord,
  type PartLevels,
  type RunLevels,
  type TempLevel,
} from './level-values.ts';
import type { Group } from './reports.ts';
import { readTrailingSections } from './trailing-sections.ts';

const WIND_SECTION = '21212';

/** Reads the body of part B or D. Never throws. */
export function readSignificantPart(
  groups: readonly Group[],
  header: ReportHeader,
  isPartD: boolean,
): PartLevels {
  const read = (start: number, quantity: 'temperature' | 'wind') =>
    readSignificantRun(groups, start, { quantity, isPartD, speedUnitMps: header.speedUnitMps });
  const temperatures = read(header.bodyStart, 'temperature');
  const windStart = windSectionStart(groups, temperatures.end);
  const winds = windStart === undefined ? undefined : read(windStart, 'wind');
  const sections = groups.slice(temperatures.end, windStart).concat(winds ? groups.slice(winds.end) : []);
  return {
    levels: [...temperatures.levels, ...(winds?.levels ?? [])],
    rejected: [...temperatures.rejected, ...(winds?.rejected ?? [])],
    sections: readTrailingSections(sections, header),
    lost: temperatures.lost,
    reachPa: Math.min(...temperatures.levels.map(({ record }) => record.pressurePa)),
  };
}

/** Index after 21212, looked for up to the regional sections, where any group may read like it. */
function windSectionStart(groups: readonly Group[], from: number): number | undefined {
  for (let at = from; at < groups.length; at += 1) {
    const { text } = groups[at]!;
    if (text === WIND_SECTION && groups[at + 1]?.text !== WIND_SECTION) return at + 1;
    if (isSectionMark(text) && /^[56]/.test(text)) return undefined;
  }
  return undefined;
}

/** Levels are counted 00 (surface, part B only), 11, 22 ... 99 and again from 11. */
function significantRules(isPartD: boolean): RunRules {
  const lowest = isPartD ? 1 : 0;
  const orderPa = (indicator: string) => pressurePa(indicator.slice(2), isPartD) ?? Number.NaN;
  return {
    position(group, from) {
      const figures = /^(\d)\1[\d/]{3}$/.exec(group);
      if (figures === null) return undefined;
      const digit = Number(figures[1]);
      const first = Math.max(from, lowest);
      if (digit === 0) return first === 0 ? 0 : undefined;
      const firstCounted = Math.max(first, 1);
      return firstCounted + ((digit - levelDigit(firstCounted) + 9) % 9);
    },
    sizes: () => [2],
    closes: isSectionMark,
    // The winds begin at the surface or with the first level again.
    surelyCloses: (group, after) => group === WIND_SECTION && /^(?:00|11)/.test(after ?? ''),
    mayFollow: (earlier, later) => orderPa(later) < orderPa(earlier),
    // The winds may begin aloft, and part D has no surface level.
    mayLack: (position) => position === 0,
    name: (position) => `significant level ${String(levelDigit(position)).repeat(2)}`,
  };
}

function levelDigit(position: number): number {
  return position === 0 ? 0 : ((position - 1) % 9) + 1;
}

function readSignificantRun(
  groups: readonly Group[],
  start: number,
  run: {
    readonly quantity: 'temperature' | 'wind';
    readonly isPartD: boolean;
    readonly speedUnitMps: number;
  },
): RunLevels & { readonly lost: readonly LostStretch[] } {
  const {
    levels: runLevels,
    rejected: runRejected,
    end,
  } = readRun(groups, start, significantRules(run.isPartD));
  const rejected: Rejection[] = [...runRejected];
  const read = runLevels.map(({ position, indicator, values }): TempLevel | undefined => {
    const levelPa = pressurePa(indicator.text.slice(2), run.isPartD);
    if (levelPa === undefined || pressureFault(levelPa) !== undefined) {
      rejected.push(badPressure(indicator));
      return undefined;
    }
    const groupsOfLevel = { indicator, pressurePa: levelPa, [run.quantity]: values[0] };
    const record = levelRecord(groupsOfLevel, run.speedUnitMps, rejected);
    return { kind: position === 0 ? 'surface' : 'other', record, heightChoices: [] };
  });
  const ordered = fallingOnly(read, rejected);
  const lostBefore = new Set(runLevels.flatMap(({ isAfterLoss }, index) => (isAfterLoss ? [index] : [])));
  return {
    levels: ordered.filter((level) => level !== undefined),
    rejected,
    end,
    lost: stretchesBetween(
      ordered.map((level) => (level !== undefined && hasAir(level) ? level.record.pressurePa : Number.NaN)),
      lostBefore,
    ),
  };
}

/** A level that lost its temperature may still have a wind from elsewhere: then nothing but this tells of the loss. */
const hasAir = ({ record }: TempLevel): boolean =>
  !Number.isNaN(record.temperatureK) && !Number.isNaN(record.dewPointK);

/** Slashes in place of a pressure say, between two levels, that the air between them was not measured. */
function badPressure(indicator: Group): Rejection {
  const isUnmeasured = indicator.text.endsWith('///');
  return badGroup(
    indicator,
    isUnmeasured ? 'a pressure nnPPP; the air up to the next level is unknown' : 'a pressure nnPPP',
  );
}

/** Levels whose pressure does not fall are left out; their places stay. */
function fallingOnly(
  levels: readonly (TempLevel | undefined)[],
  rejected: Rejection[],
): (TempLevel | undefined)[] {
  const placed = levels.flatMap((level, place) => (level === undefined ? [] : [{ level, place }]));
  const disordered = new Set(
    indexesOutOfOrder(placed.map(({ level }) => level.record.pressurePa)).map(
      (index) => placed[index]!.place,
    ),
  );
  return levels.map((level, place) => {
    if (level === undefined || !disordered.has(place)) return level;
    const { line, pressurePa: levelPa } = level.record;
    rejected.push({
      line,
      reason: `significant level: found ${levelPa / 100} hPa out of order, expected pressures to fall from level to level`,
    });
    return undefined;
  });
}
