/** An operator's own fixes and spot heights as CSV (RFC 4180), read with d3-dsv. */
import { csvParseRows } from 'd3-dsv';
import { FormatError } from '../errors.ts';
import type { Rejection } from './sounding.ts';

export interface FixRow {
  readonly ident: string;
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
}

export interface SpotHeightRow {
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly heightFt: number;
}

export type PlacesFile =
  | { readonly kind: 'fixes'; readonly rows: readonly FixRow[]; readonly rejected: readonly Rejection[] }
  | {
      readonly kind: 'spot-heights';
      readonly rows: readonly SpotHeightRow[];
      readonly rejected: readonly Rejection[];
    };

const FIX_HEADER = 'ident,name,latDeg,lonDeg';
const SPOT_HEADER = 'name,latDeg,lonDeg,heightFt';
const MOST_ROWS = 20_000;
const LONGEST_NAME = 80;

/**
 * @returns rows that read, and each line that did not with its reason; the header says which of the two it is.
 * @throws FormatError when the header is neither, or the file is longer than 20,000 rows.
 */
export function readPlacesCsv(text: string): PlacesFile {
  const rows = csvParseRows(text.replace(/^\uFEFF/, ''));
  const header = (rows[0] ?? []).map((cell) => cell.trim()).join(',');
  if (rows.length > MOST_ROWS) throw csvError(MOST_ROWS, `${rows.length} rows`, `at most ${MOST_ROWS}`);
  if (header === FIX_HEADER) return { kind: 'fixes', ...readRows(rows, readFix) };
  if (header === SPOT_HEADER) return { kind: 'spot-heights', ...readRows(rows, readSpotHeight) };
  throw csvError(1, `header ${JSON.stringify(header.slice(0, 60))}`, `${FIX_HEADER} or ${SPOT_HEADER}`);
}

function csvError(line: number, found: string, expected: string): FormatError {
  return new FormatError({
    format: 'places CSV',
    what: 'rows',
    place: { unit: 'line', line },
    found,
    expected,
  });
}

function readRows<Row>(
  rows: readonly string[][],
  read: (cells: readonly string[]) => Row | string,
): { rows: Row[]; rejected: Rejection[] } {
  const kept: Row[] = [];
  const rejected: Rejection[] = [];
  rows.forEach((cells, index) => {
    if (index === 0 || cells.every((cell) => cell.trim() === '')) return;
    const row = read(cells.map((cell) => cell.trim()));
    if (typeof row === 'string') rejected.push({ line: index + 1, reason: row });
    else kept.push(row);
  });
  return { rows: kept, rejected };
}

/** A row, or what was found and expected. */
function readFix(cells: readonly string[]): FixRow | string {
  const [ident = '', name = '', lat = '', lon = ''] = cells;
  if (!/^[A-Z0-9]{2,5}$/.test(ident))
    return `ident: found ${quote(ident)}, expected 2 to 5 letters or digits`;
  const place = readPlace(name, lat, lon);
  return typeof place === 'string' ? place : { ident, ...place };
}

function readSpotHeight(cells: readonly string[]): SpotHeightRow | string {
  const [name = '', lat = '', lon = '', height = ''] = cells;
  const place = readPlace(name, lat, lon);
  if (typeof place === 'string') return place;
  const heightFt = numberIn(height, -1500, 30_000);
  if (heightFt === undefined) return `heightFt: found ${quote(height)}, expected -1500 to 30000`;
  return { ...place, heightFt };
}

function readPlace(
  name: string,
  lat: string,
  lon: string,
): { name: string; latDeg: number; lonDeg: number } | string {
  if (name === '' || name.length > LONGEST_NAME)
    return `name: found ${quote(name)}, expected 1 to 80 characters`;
  const latDeg = numberIn(lat, -90, 90);
  if (latDeg === undefined) return `latDeg: found ${quote(lat)}, expected -90 to 90`;
  const lonDeg = numberIn(lon, -180, 180);
  if (lonDeg === undefined) return `lonDeg: found ${quote(lon)}, expected -180 to 180`;
  return { name, latDeg, lonDeg };
}

function numberIn(text: string, low: number, high: number): number | undefined {
  const value = /^-?\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  return value >= low && value <= high ? value : undefined;
}

const quote = (text: string) => JSON.stringify(text.slice(0, 30));
