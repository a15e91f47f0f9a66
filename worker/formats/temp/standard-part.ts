/** Parts A and C: surface, standard levels, tropopauses (88) and greatest winds (77, 66). */
import type { Rejection } from '../sounding.ts';
import { heightChoices, pressurePa, windGroup } from './code-figures.ts';
import type { ReportHeader } from './header.ts';
import { type RunLevel, type RunRules, readRun } from './level-run.ts';
import { badGroup, isSectionMark, levelRecord, type PartLevels, type TempLevel } from './level-values.ts';
import type { Group } from './reports.ts';
import { isNone, isSpecialMark, readSpecialLevels } from './special-levels.ts';
import { readTrailingSections } from './trailing-sections.ts';

/** Standard pressures in the order of the code; 0 stands for the surface, which has its own pressure. */
const SURFACE = 0;
const PART_A_HPA = [SURFACE, 1000, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100];
const PART_C_HPA = [70, 50, 30, 20, 10];

/** Reads the body of part A or C. Never throws. */
export function readStandardPart(
  groups: readonly Group[],
  header: ReportHeader,
  isPartC: boolean,
): PartLevels {
  const standards = isPartC ? PART_C_HPA : PART_A_HPA;
  const surfaceHPa = isPartC ? Number.POSITIVE_INFINITY : surfaceHPaOf(groups[header.bodyStart]);
  const run = readRun(groups, header.bodyStart, standardRules(standards, header.lastWindFigure, surfaceHPa));
  const rejected = [...run.rejected];
  const levels = run.levels.flatMap((level) => {
    const standardHPa = standards[level.position]!;
    return standardHPa === SURFACE
      ? surfaceLevel(level, header.speedUnitMps, rejected)
      : [standardLevel(level, standardHPa, header.speedUnitMps, rejected)];
  });
  const special = readSpecialLevels(groups, run.end, { header, isPartC });
  return {
    levels: [...levels, ...special.levels],
    rejected: [...rejected, ...special.rejected],
    sections: readTrailingSections(groups.slice(special.end), header),
    lost: [],
    reachPa: Number.POSITIVE_INFINITY,
  };
}

function standardRules(standards: readonly number[], lastWindFigure: string, surfaceHPa: number): RunRules {
  const codes = standards.map((hPa) =>
    hPa === SURFACE ? '99' : twoFigures(hPa < 100 ? hPa : Math.floor((hPa % 1000) / 10)),
  );
  const lastWindHPa =
    lastWindFigure === '/'
      ? Number.POSITIVE_INFINITY
      : Number(lastWindFigure) * (standards[0] === SURFACE ? 100 : 10);
  return {
    position(group, from) {
      if (!/^\d\d[\d/]{3}$/.test(group)) return undefined;
      const found = codes.indexOf(group.slice(0, 2), from);
      return found < 0 ? undefined : found;
    },
    sizes(position, groups, at) {
      const hPa = standards[position]!;
      // Figure 0 means 1000 hPa, the lowest: every comparison then holds for it alone.
      const lastHPa = lastWindHPa === 0 ? 1000 : lastWindHPa;
      if (hPa === SURFACE || hPa > lastHPa) return [3];
      if (hPa < lastHPa) return [2];
      // Figures 1 and 2 name two levels each (150 and 100, 250 and 200): the upper may or may not have its wind. Without
      // one its temperature, always under -36 degC there, must not read as a wind.
      const isNamedAlone = hPa < 100 || hPa > 200;
      if (isNamedAlone) return [3];
      const readsAsWind = groups.slice(at + 1, at + 3).map(({ text }) => windGroup(text) !== undefined);
      const mayLackWind = !readsAsWind[0] || groups[at + 1]?.text === '/////';
      if (!mayLackWind) return [3];
      return readsAsWind[1] ? [3, 2] : [2];
    },
    closes: (group) => isSpecialMark(group) || isSectionMark(group),
    mayFollow: () => true,
    surelyCloses: (group) => isNone(group),
    // A level under the ground may be left out altogether.
    mayLack: (position) => standards[position]! > surfaceHPa,
    name(position) {
      const hPa = standards[position];
      if (hPa === undefined) return 'tropopause, greatest wind or a section';
      return hPa === SURFACE ? 'surface level 99PPP' : `level ${hPa} hPa`;
    },
  };
}

/** The surface pressure if the part opens with one, hPa; infinite otherwise, when no level is known to be under it. */
function surfaceHPaOf(group: Group | undefined): number {
  const isSurface = /^99\d{3}$/.test(group?.text ?? '');
  return isSurface ? (pressurePa(group!.text.slice(2), false) ?? Number.NaN) / 100 : Number.POSITIVE_INFINITY;
}

function surfaceLevel(level: RunLevel, speedUnitMps: number, rejected: Rejection[]): TempLevel[] {
  const [temperature, wind] = level.values;
  const surfacePa = pressurePa(level.indicator.text.slice(2), false);
  if (surfacePa === undefined || Number.isNaN(surfacePa)) {
    const isEmpty = level.values.every(({ text }) => text === '/////');
    if (surfacePa === undefined || !isEmpty) {
      rejected.push(badGroup(level.indicator, 'a surface pressure 99PPP'));
    }
    return [];
  }
  const groups = { indicator: level.indicator, pressurePa: surfacePa, temperature, wind };
  return [{ kind: 'surface', record: levelRecord(groups, speedUnitMps, rejected), heightChoices: [] }];
}

function standardLevel(
  level: RunLevel,
  standardHPa: number,
  speedUnitMps: number,
  rejected: Rejection[],
): TempLevel {
  const [temperature, wind] = level.values;
  const choices = heightChoices(level.indicator.text.slice(2), standardHPa);
  if (choices === undefined)
    rejected.push(badGroup(level.indicator, `a height at ${standardHPa} hPa, PPhhh`));
  const groups = { indicator: level.indicator, pressurePa: standardHPa * 100, temperature, wind };
  return {
    kind: 'standard',
    record: levelRecord(groups, speedUnitMps, rejected),
    heightChoices: choices ?? [],
  };
}

function twoFigures(value: number): string {
  return String(value).padStart(2, '0');
}
