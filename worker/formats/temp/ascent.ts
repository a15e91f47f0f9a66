/** The parts of one ascent put together: corrections in place of what they correct, limits, heights, one list of levels. */

import { nearestTimeMs, releaseNearMs } from '../nearest-time.ts';
import type { Rejection, ReportText, Sounding } from '../sounding.ts';
import { type LostStretch, mergeLevels, pressureFault, withinLimits } from '../sounding-levels.ts';
import type { Position, ReportHeader } from './header.ts';
import type { PartLevels, TempLevel } from './level-values.ts';
import { placedLevels } from './placed-levels.ts';
import { type Report, reportText } from './reports.ts';
import { readSignificantPart } from './significant-part.ts';
import { readStandardPart } from './standard-part.ts';
import type { DoubtfulRange } from './trailing-sections.ts';

/** A part B that ends below this, Pa, while part A goes on was cut; nobody here flies where it may end of itself. */
const PART_B_TOP_PA = 30_000;

/** A report whose header reads. */
export interface HeadedReport {
  readonly report: Report;
  readonly header: ReportHeader;
}

/** One ascent of its parts (one at least, all of one station, day and hour). Never throws. */
export function soundingOf(
  ascent: readonly HeadedReport[],
  position: Position,
  { nearMs, notAfterMs }: { readonly nearMs: number; readonly notAfterMs?: number | undefined },
): Sounding {
  const { header } = ascent[0]!;
  const { kept, rejected: replaced } = correctedParts(ascent);
  const parts = kept.map(readPart);
  const checked = parts.flatMap((part) => part.levels).map(checkedLevel);
  const doubts = parts.flatMap(({ sections }) => sections.doubts);
  const levels = checked.flatMap(({ level }) =>
    level === undefined ? [] : [withoutDoubtful(level, doubts)],
  );
  const timeMs = nearestTimeMs(header.day, header.hour, nearMs, notAfterMs);
  const placed = placedLevels(levels, position.elevationM);
  const merged = mergeLevels(placed.records, lostStretches(kept, parts));
  const rejected = [
    ...replaced,
    ...parts.flatMap((part) => [...part.rejected, ...part.sections.rejected]),
    ...parts.flatMap((part, index) => emptyPart(part, kept[index]!.report)),
    ...doubts.map(({ rejection }) => rejection),
    ...checked.flatMap((one) => one.rejected),
    ...placed.rejected,
    ...merged.rejected,
  ];
  return {
    format: 'fm-35-temp',
    stationId: header.stationId,
    latDeg: position.latDeg,
    lonDeg: position.lonDeg,
    elevationM: placed.elevationM,
    timeMs,
    releaseMs: releaseMs(parts, timeMs),
    reports: reportTexts(kept),
    levels: merged.levels,
    rejected: rejected.sort((a, b) => a.line - b.line),
  };
}

/** Parts in the order A to D; where one came with a correction, its last correction alone. */
function correctedParts(ascent: readonly HeadedReport[]): { kept: HeadedReport[]; rejected: Rejection[] } {
  const kept: HeadedReport[] = [];
  const rejected: Rejection[] = [];
  const corrections = new Map<string, HeadedReport>();
  for (const one of ascent) {
    const { part, correction } = one.report;
    const isLater = correction > 0 && correction >= (corrections.get(part)?.report.correction ?? 0);
    if (isLater) corrections.set(part, one);
  }
  for (const one of ascent.toSorted((a, b) => a.report.part.localeCompare(b.report.part))) {
    const correction = corrections.get(one.report.part) ?? one;
    if (correction === one) kept.push(one);
    else {
      const reason = `part ${one.report.part}: replaced by the correction on line ${correction.report.line}`;
      rejected.push({ line: one.report.line, reason });
    }
  }
  return { kept, rejected };
}

function readPart({ report, header }: HeadedReport): PartLevels {
  const isUpper = report.part === 'C' || report.part === 'D';
  const isStandard = report.part === 'A' || report.part === 'C';
  return isStandard
    ? readStandardPart(report.groups, header, isUpper)
    : readSignificantPart(report.groups, header, isUpper);
}

/** A level that the report itself doubts keeps its wind alone. */
function withoutDoubtful(level: TempLevel, doubts: readonly DoubtfulRange[]): TempLevel {
  const { pressurePa } = level.record;
  if (!doubts.some(({ bottomPa, topPa }) => pressurePa <= bottomPa && pressurePa >= topPa)) return level;
  const record = { ...level.record, temperatureK: Number.NaN, dewPointK: Number.NaN };
  return { ...level, record, heightChoices: [] };
}

/**
 * Where the ascent's air is unknown between levels: where significant levels were lost, where the report doubts them, and
 * above the last one of a part B that ends before part A does. (Part A alone is another matter: see sounding-profile.ts.)
 */
function lostStretches(kept: readonly HeadedReport[], parts: readonly PartLevels[]): LostStretch[] {
  const significant = parts.filter((_, index) => kept[index]!.report.part === 'B');
  const reachPa = Math.min(...significant.map((part) => part.reachPa));
  return [
    ...parts.flatMap((part) => part.lost),
    ...parts.flatMap(({ sections }) => sections.doubts),
    ...(significant.length > 0 ? [{ bottomPa: reachPa, topPa: PART_B_TOP_PA }] : []),
  ];
}

/** A part that holds nothing says so, with its regional notes: Region IV gives the reason there. */
function emptyPart({ levels, rejected, sections }: PartLevels, report: Report): Rejection[] {
  const isTold = levels.length > 0 || rejected.length > 0 || sections.rejected.length > 0;
  if (isTold) return [];
  const notes = sections.notes === '' ? '' : `; the reason may be in its regional notes ${sections.notes}`;
  return [{ line: report.line, reason: `part ${report.part}: found no level${notes}` }];
}

/** Each part once: one sent twice in the same words is one. */
function reportTexts(kept: readonly HeadedReport[]): ReportText[] {
  const texts = kept.map(({ report }) => reportText(report));
  const keyOf = ({ correction, text }: ReportText) => `${correction} ${text}`;
  return [...new Map(texts.map((one) => [keyOf(one), one])).values()];
}

/** The first release that a part gives and that lies near the nominal time; NaN where none does. */
function releaseMs(parts: readonly PartLevels[], timeMs: number): number {
  const releases = parts.map(({ sections }) => releaseNearMs(sections.releaseMinute, timeMs));
  return releases.find((each) => !Number.isNaN(each)) ?? Number.NaN;
}

function checkedLevel(level: TempLevel): { level: TempLevel | undefined; rejected: readonly Rejection[] } {
  const { line, pressurePa } = level.record;
  const fault = pressureFault(pressurePa);
  if (fault !== undefined) return { level: undefined, rejected: [{ line, reason: fault }] };
  const { record, rejected } = withinLimits(level.record);
  return { level: { ...level, record }, rejected };
}
