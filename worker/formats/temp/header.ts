/** Who, where and when of a report: YYGGId and the station number, or the ship's name and position. */
import { mpsFromKt } from '../../science/units.ts';
import type { Rejection } from '../sounding.ts';
import type { Group, Report } from './reports.ts';

/** A place; the elevation is NaN where nobody gives it. */
export interface Position {
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number;
}

export interface ReportHeader {
  /** Five-figure number, or the ship's call sign (its position groups where it gives none). */
  readonly stationId: string;
  /** YYGG as it stands. */
  readonly timeFigures: string;
  /** UTC day of the month and hour. */
  readonly day: number;
  readonly hour: number;
  /** m/s in one unit of the report's wind speeds. */
  readonly speedUnitMps: number;
  /** Code table 1734: the last standard level with a wind; a figure, or a slash for none. */
  readonly lastWindFigure: string;
  /** A ship's own position; undefined for a land station. */
  readonly position: Position | undefined;
  /** Index of the first group after the header. */
  readonly bodyStart: number;
}

export type HeaderResult =
  | { readonly kind: 'header'; readonly header: ReportHeader }
  | { readonly kind: 'refused'; readonly rejection: Rejection };

const FAMILY_NAMES: Readonly<Record<string, string>> = {
  II: 'TEMP MOBIL (mobile land station)',
  XX: 'TEMP DROP (dropsonde)',
  PP: 'PILOT (wind only)',
  QQ: 'PILOT SHIP (wind only)',
  EE: 'PILOT MOBIL (wind only)',
};

/** Reads a report's header. Refused: another family of codes, NIL, a group that is not what must stand there. Never throws. */
export function readHeader(report: Report): HeaderResult {
  const name = `${report.family}${report.part}${report.part}`;
  const family = FAMILY_NAMES[report.family];
  if (family !== undefined) {
    return refusedAt(report.line, `report: found ${name}, ${family}, expected TEMP or TEMP SHIP (TT, UU)`);
  }
  const nil = report.groups.slice(0, 5).find(({ text }) => text === 'NIL');
  if (nil !== undefined) return refusedAt(nil.line, `${name}: found NIL, no ascent was made or sent`);
  return report.family === 'UU' ? shipHeader(report) : landHeader(report);
}

function landHeader(report: Report): HeaderResult {
  const time = readTime(report.groups[0]);
  if (time === undefined) return badGroup(report, 0, 'YYGGId with day 1-31 (51-81 for knots) and hour 00-23');
  const station = report.groups[1]?.text ?? '';
  if (!/^\d{5}$/.test(station)) return badGroup(report, 1, 'a five-figure station number');
  return {
    kind: 'header',
    header: { ...time, stationId: station, position: undefined, bodyStart: 2 },
  };
}

/** A ship may name itself before YYGGId; its position follows: 99LaLaLa QcLoLoLoLo MMMULaULo. */
function shipHeader(report: Report): HeaderResult {
  const isNamed = !(report.groups[1]?.text ?? '').startsWith('99');
  const start = isNamed ? 1 : 0;
  const time = readTime(report.groups[start]);
  if (time === undefined)
    return badGroup(report, start, 'YYGGId with day 1-31 (51-81 for knots) and hour 00-23');
  const places = report.groups.slice(start + 1, start + 4);
  const position = readShipPosition(places.map(({ text }) => text));
  if (position === undefined) {
    return badGroup(report, start + 1, 'a position 99LaLaLa QcLoLoLoLo MMMULaULo that agrees with itself');
  }
  const stationId = isNamed ? report.groups[0]!.text : `${places[0]!.text}${places[1]!.text}`;
  return { kind: 'header', header: { ...time, stationId, position, bodyStart: start + 4 } };
}

/** YYGGId, or YYGGa4 in the significant parts: 50 is added to the day where winds are in knots. */
function readTime(
  group: Group | undefined,
): Pick<ReportHeader, 'timeFigures' | 'day' | 'hour' | 'speedUnitMps' | 'lastWindFigure'> | undefined {
  const figures = /^((\d\d)(\d\d))([\d/])$/.exec(group?.text ?? '');
  if (figures === null) return undefined;
  const dayCode = Number(figures[2]);
  const isKnots = dayCode > 50;
  const day = isKnots ? dayCode - 50 : dayCode;
  const hour = Number(figures[3]);
  if (day < 1 || day > 31 || hour > 23) return undefined;
  return {
    timeFigures: figures[1]!,
    day,
    hour,
    speedUnitMps: isKnots ? mpsFromKt(1) : 1,
    lastWindFigure: figures[4]!,
  };
}

/** Quadrants of the globe, code table 3333: signs of latitude and longitude. */
const QUADRANTS: Readonly<Record<string, readonly [lat: number, lon: number]>> = {
  1: [1, 1],
  3: [-1, 1],
  5: [-1, -1],
  7: [1, -1],
};

/**
 * Tenths of a degree; the last two figures of the third group repeat the whole degrees' units and must agree. A ship's
 * surface level is the water's, taken as 0 m.
 */
function readShipPosition(groups: readonly string[]): Position | undefined {
  const lat = /^99(\d{3})$/.exec(groups[0] ?? '');
  const lon = /^([1357])(\d{4})$/.exec(groups[1] ?? '');
  const check = /^\d{3}(\d)(\d)$/.exec(groups[2] ?? '');
  if (lat === null || lon === null || check === null) return undefined;
  const latTenths = Number(lat[1]);
  const lonTenths = Number(lon[2]);
  const agrees = lat[1]![1] === check[1] && lon[2]![2] === check[2];
  if (latTenths > 900 || lonTenths > 1800 || !agrees) return undefined;
  const [latSign, lonSign] = QUADRANTS[lon[1]!]!;
  const lonDeg = (lonSign * lonTenths) / 10;
  return { latDeg: (latSign * latTenths) / 10, lonDeg: lonDeg === 180 ? -180 : lonDeg, elevationM: 0 };
}

function badGroup(report: Report, index: number, expected: string): HeaderResult {
  const group = report.groups[index];
  const found = group === undefined ? 'the end of the report' : JSON.stringify(group.text.slice(0, 20));
  const name = `${report.family}${report.part}${report.part}`;
  return refusedAt(group?.line ?? report.line, `${name} header: found ${found}, expected ${expected}`);
}

function refusedAt(line: number, reason: string): HeaderResult {
  return { kind: 'refused', rejection: { line, reason } };
}
