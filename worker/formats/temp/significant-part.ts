/** Parts B and D: significant levels of temperature, and of wind after 21212. */
import type { Rejection } from '../sounding.ts';
import { indexesOutOfOrder } from '../sounding-levels.ts';
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
): RunLevels {
  const {
    levels: runLevels,
    rejected: runRejected,
    end,
  } = readRun(groups, start, significantRules(run.isPartD));
  const rejected: Rejection[] = [...runRejected];
  const levels: TempLevel[] = [];
  for (const { position, indicator, values } of runLevels) {
    const levelPa = pressurePa(indicator.text.slice(2), run.isPartD);
    if (levelPa === undefined || Number.isNaN(levelPa)) {
      rejected.push(badGroup(indicator, 'a pressure nnPPP'));
      continue;
    }
    const record = levelRecord(
      { indicator, pressurePa: levelPa, [run.quantity]: values[0] },
      run.speedUnitMps,
      rejected,
    );
    levels.push({ kind: position === 0 ? 'surface' : 'other', record, heightChoices: [] });
  }
  return { levels: fallingOnly(levels, rejected), rejected, end };
}

function fallingOnly(levels: readonly TempLevel[], rejected: Rejection[]): TempLevel[] {
  const disordered = new Set(indexesOutOfOrder(levels.map(({ record }) => record.pressurePa)));
  for (const index of disordered) {
    const { line, pressurePa: levelPa } = levels[index]!.record;
    rejected.push({
      line,
      reason: `significant level: found ${levelPa / 100} hPa out of order, expected pressures to fall from level to level`,
    });
  }
  return levels.filter((_, index) => !disordered.has(index));
}
