/** Who, where and when of a report: YYGGId and the station number, or the name and position of what moves. */
import { mFromFt, mpsFromKt } from '../../science/units.ts';
import type { Rejection } from '../sounding.ts';
import type { Group, Report } from './reports.ts';

/** A place; the elevation is NaN where nobody gives it. */
export interface Position {
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number;
}

export interface ReportHeader {
  /** Five-figure number, or the call sign of what moves (its position groups where it gives none). */
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
  /** The position that a ship or mobile station gives; undefined for a fixed station. */
  readonly position: Position | undefined;
  /** Index of the first group after the header. */
  readonly bodyStart: number;
}

export type HeaderResult =
  | { readonly kind: 'header'; readonly header: ReportHeader }
  | { readonly kind: 'refused'; readonly rejection: Rejection };

const FAMILY_NAMES: Readonly<Record<string, string>> = {
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
    return refusedAt(
      report.line,
      `report: found ${name}, ${family}, expected TEMP, TEMP SHIP or TEMP MOBIL (TT, UU, II)`,
    );
  }
  const nil = report.groups.slice(0, 5).find(({ text }) => text === 'NIL');
  if (nil !== undefined) return refusedAt(nil.line, `${name}: found NIL, no ascent was made or sent`);
  return report.family === 'TT' ? landHeader(report) : movingHeader(report);
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

/** How the levels of the lower parts begin. */
const LEVELS_OPEN: Readonly<Record<string, RegExp>> = { A: /^99/, B: /^(?:00|11)/ };

/**
 * A ship or a mobile land station may name itself before YYGGId; its position follows: 99LaLaLa QcLoLoLoLo MMMULaULo,
 * on land with its elevation h0h0h0h0im.
 */
function movingHeader(report: Report): HeaderResult {
  const isNamed = !(report.groups[1]?.text ?? '').startsWith('99');
  const start = isNamed ? 1 : 0;
  const time = readTime(report.groups[start]);
  if (time === undefined)
    return badGroup(report, start, 'YYGGId with day 1-31 (51-81 for knots) and hour 00-23');
  const places = report.groups.slice(start + 1, start + 4);
  const sea = readMovingPosition(places.map(({ text }) => text));
  if (sea === undefined) {
    return badGroup(report, start + 1, 'a position 99LaLaLa QcLoLoLoLo MMMULaULo that agrees with itself');
  }
  const isOnLand = report.family === 'II';
  const elevationM = isOnLand ? elevationOf(report.groups[start + 4]?.text ?? '') : sea.elevationM;
  // A surface pressure can read as an elevation: what must open the levels stands behind it.
  const opens = LEVELS_OPEN[report.part]?.test(report.groups[start + 5]?.text ?? '') ?? true;
  if (elevationM === undefined || (isOnLand && !opens)) {
    return badGroup(report, start + 4, 'an elevation h0h0h0h0im and then the first level');
  }
  const position = { ...sea, elevationM };
  const stationId = isNamed ? report.groups[0]!.text : `${places[0]!.text}${places[1]!.text}`;
  const bodyStart = start + (isOnLand ? 5 : 4);
  return { kind: 'header', header: { ...time, stationId, position, bodyStart } };
}

/** h0h0h0h0im, m; im of code table 1845 is 1 to 4 for meters, 5 to 8 for feet. NaN for slashes, undefined for others. */
function elevationOf(text: string): number | undefined {
  if (/^\/{4}[1-8/]$/.test(text)) return Number.NaN;
  const figures = /^(\d{4})([1-8])$/.exec(text);
  if (figures === null) return undefined;
  return Number(figures[2]) <= 4 ? Number(figures[1]) : mFromFt(Number(figures[1]));
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
function readMovingPosition(groups: readonly string[]): Position | undefined {
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
