import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readInventory } from '../../worker/formats/inventory.ts';

const directory = process.env.RIMEWAY_DATA_DIR;
if (directory === undefined) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');

function load(name: string) {
  const text = readFileSync(join(directory!, 'grib2/idx', name), 'utf8');
  const lines = text.trimEnd().split('\n');
  const inventory = readInventory(text);
  const { entries, rejected } = inventory;
  process.stdout.write(
    `${name}: ${lines.length} lines = ${entries.length} read + ${rejected.length} refused\n`,
  );
  return { lines, entries, rejected };
}

/** Of a line as the file has it, cut by hand: no part of the reader is used. */
const columnOf = (line: string, column: number) => line.split(':')[column]!;

describe('the long inventory of a quarter-degree analysis', () => {
  const { lines, entries, rejected } = load('gfs-0p25-2026072400-f000.inv');

  test('is read whole, the ranges touching from the first byte on', () => {
    expect(rejected).toEqual([]);
    expect(entries).toHaveLength(696);
    let end = 0;
    for (const [index, { offsetBytes, lengthBytes }] of entries.entries()) {
      expect(offsetBytes).toBe(end);
      expect(String(offsetBytes)).toBe(columnOf(lines[index]!, 1));
      end += lengthBytes ?? 0;
    }
    expect(entries.filter(({ lengthBytes }) => lengthBytes === undefined)).toEqual([entries.at(-1)]);
  });

  test('keeps short names, levels and forecasts, all of one reference time', () => {
    expect(entries[0]).toMatchObject({ parameter: 'PRMSL', level: 'mean sea level', forecast: 'anl' });
    expect(new Set(entries.map(({ referenceTimeMs }) => referenceTimeMs))).toEqual(
      new Set([Date.UTC(2026, 6, 24)]),
    );
    for (const [index, { parameter, level }] of entries.entries()) {
      expect(columnOf(lines[index]!, 3).startsWith(`${parameter} `)).toBe(true);
      expect(level).toBe(columnOf(lines[index]!, 4));
    }
  });
});

describe('the short inventory whose offsets wrap at 32 bits, twice', () => {
  const { lines, entries, rejected } = load('rrfs-prslev-2024020118.inv');

  test('every line with a negative offset is refused, none is lost', () => {
    const negative = lines.flatMap((line, index) => (columnOf(line, 1).startsWith('-') ? [index + 1] : []));
    const refused = new Set(rejected.map(({ line }) => line));
    process.stdout.write(`negative offsets: ${negative.length}\n`);
    // Counted by grep -c ':-' over the file.
    expect(negative).toHaveLength(389);
    expect(negative.filter((line) => !refused.has(line))).toEqual([]);
    expect(entries.length + rejected.length).toBe(1078);
  });

  test('so is what follows the first of them, line 369, and the message that would end there', () => {
    // The first negative offset stands in line 369; line 368's message ends there.
    expect(entries.map(({ line }) => line)).toEqual(Array.from({ length: 367 }, (_, index) => index + 1));
    expect(rejected.map(({ line }) => line)).toEqual(Array.from({ length: 711 }, (_, index) => index + 368));
    expect(rejected[0]!.reason).toContain('line 369');
    expect(rejected[1]!.reason).toContain('-2144868154');
    expect(entries.every(({ lengthBytes }) => lengthBytes !== undefined && lengthBytes > 0)).toBe(true);
  });
});
