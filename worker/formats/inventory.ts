/**
 * Inventories of GRIB files: which field lies at which byte, so that a file is read in ranges.
 *
 * Two kinds of line. Colons, short or long form:
 * `1:0:d=2024020118:PRES:1 hybrid level:4 hour fcst:` and
 * `1:0:d=2026072400:PRMSL Pressure Reduced to MSL [Pa]:mean sea level:anl:`; fields of one message share its offset and
 * are numbered 12.1, 12.2. JSON, an object a line, with `_offset` and `_length`. What no file can have is refused by line;
 * an offset that looks wrapped makes every later one doubtful.
 */
import { readColonLine } from './inventory-colon.ts';
import { readJsonLine } from './inventory-json.ts';
import type { InventoryEntry, ReadLine } from './inventory-line.ts';
import { placeByLengths, placeInOrder } from './inventory-order.ts';
import type { Rejection } from './sounding.ts';

export interface Inventory {
  /** In the order of the lines. */
  readonly entries: readonly InventoryEntry[];
  readonly rejected: readonly Rejection[];
}

const MOST_CHARACTERS = 64 * 2 ** 20;

/**
 * Reads an inventory; every line that is not blank becomes an entry or a rejection.
 *
 * @param text  At most 64 Mi characters, else refused whole, as line 1. A line that begins with { is JSON.
 * @returns     Entries with offsets that grow along a colon inventory, or with ranges that do not overlap in JSON.
 */
export function readInventory(text: string): Inventory {
  if (text.length > MOST_CHARACTERS) {
    const reason = `${text.length} characters, expected at most ${MOST_CHARACTERS}`;
    return { entries: [], rejected: [{ line: 1, reason }] };
  }
  const colon: ReadLine[] = [];
  const json: ReadLine[] = [];
  text.split(/\r\n|\n/).forEach((written, index) => {
    const line = index + 1;
    const content = index === 0 && written.startsWith('\ufeff') ? written.slice(1) : written;
    if (content.trim() === '') return;
    if (content.startsWith('{')) json.push(readJsonLine(content, line));
    else colon.push(readColonLine(content, line));
  });
  const parts = [placeInOrder(colon), placeByLengths(json)];
  const byLine = (a: { line: number }, b: { line: number }) => a.line - b.line;
  return {
    entries: parts.flatMap(({ entries }) => entries).sort(byLine),
    rejected: parts.flatMap(({ rejected }) => rejected).sort(byLine),
  };
}
