/** The reduced tables B and D beside the whole ones that ecCodes brings, entry by entry. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { fOf, shownDescriptor } from '../../../worker/formats/bufr/descriptors.ts';
import { findElement } from '../../../worker/formats/bufr/table-b.ts';
import { AIR_ELEMENTS } from '../../../worker/formats/bufr/table-b-air.ts';
import { PLACE_ELEMENTS } from '../../../worker/formats/bufr/table-b-place.ts';
import { findSequence } from '../../../worker/formats/bufr/table-d.ts';

const definitions = spawnSync('codes_info', ['-d']).stdout.toString().trim();
const TABLES = join(definitions, 'bufr/tables/0/wmo');
const OURS_VERSION = 39;

const descriptors = [...PLACE_ELEMENTS, ...AIR_ELEMENTS].map((row) =>
  Number(row.slice(0, 6).replace(' ', '')),
);

/** Kind, scale, reference and width by descriptor, of a version of the master table. */
function wholeTableB(version: number): Map<number, [string, number, number, number]> {
  const lines = readFileSync(join(TABLES, `${version}/element.table`), 'utf8').split('\n');
  return new Map(
    lines
      .filter((line) => /^\d/.test(line))
      .map((line) => {
        const [code, , , , unit, scale, reference, width] = line.split('|');
        const isCode = /code table|flag table/i.test(unit!);
        const kind = unit === 'CCITT IA5' ? 'text' : isCode ? 'code' : 'number';
        return [Number(code), [kind, Number(scale), Number(reference), Number(width)]];
      }),
  );
}

function wholeTableD(version: number): Map<number, number[]> {
  const text = readFileSync(join(TABLES, `${version}/sequence.def`), 'utf8');
  return new Map(
    [...text.matchAll(/"(\d{6})"\s*=\s*\[([^\]]*)\]/g)].map(([, code, members]) => [
      Number(code),
      members!.split(',').map(Number),
    ]),
  );
}

const versions = existsSync(TABLES)
  ? readdirSync(TABLES)
      .map(Number)
      .sort((a, b) => a - b)
  : [];

describe('Table B', () => {
  test('every entry is that of version 39', () => {
    const whole = wholeTableB(OURS_VERSION);
    expect(descriptors).toHaveLength(297);
    for (const descriptor of descriptors) {
      const { kind, scale, reference, width } = findElement(descriptor, OURS_VERSION)!;
      expect([shownDescriptor(descriptor), kind, scale, reference, width]).toEqual([
        shownDescriptor(descriptor),
        ...whole.get(descriptor)!,
      ]);
    }
  });

  test('no entry was another in an older version, but for those that are refused there', () => {
    expect(versions.length).toBeGreaterThan(20);
    for (const version of versions) {
      const whole = wholeTableB(version);
      for (const descriptor of descriptors) {
        const element = findElement(descriptor, version);
        const there = whole.get(descriptor);
        if (element === undefined || there === undefined) continue;
        const { scale, reference, width } = element;
        expect([version, shownDescriptor(descriptor), scale, reference, width]).toEqual([
          version,
          shownDescriptor(descriptor),
          ...there.slice(1),
        ]);
      }
    }
    expect(findElement(33_024, 6)).toBeUndefined();
    expect(findElement(33_024, 7)).toBeDefined();
    expect(findElement(4_024, 5)).toBeUndefined();
    expect(findElement(4_024, 6)).toBeDefined();
  });
});

describe('Table D', () => {
  const sequences = [...wholeTableD(OURS_VERSION).keys()].filter(
    (code) => findSequence(code, OURS_VERSION) !== undefined,
  );

  test('every sequence is that of version 39, and was the same in every version that has it', () => {
    expect(sequences).toHaveLength(68);
    for (const version of versions) {
      const whole = wholeTableD(version);
      for (const code of sequences) {
        const there = whole.get(code);
        const members = findSequence(code, version);
        if (there === undefined || members === undefined) continue;
        expect([version, code, members]).toEqual([version, code, there]);
      }
    }
    expect(findSequence(309_018, 5)).toBeUndefined();
    expect(findSequence(309_018, 6)).toBeDefined();
  });

  test('every element and sequence that a sequence stands for is in the tables', () => {
    for (const code of sequences) {
      for (const member of findSequence(code, OURS_VERSION)!) {
        if (fOf(member) === 0)
          expect(findElement(member, OURS_VERSION), shownDescriptor(member)).toBeDefined();
        if (fOf(member) === 3)
          expect(findSequence(member, OURS_VERSION), shownDescriptor(member)).toBeDefined();
      }
    }
  });

  test('monthly means are no ascent', () => {
    expect(findSequence(309_054, OURS_VERSION)).toBeUndefined();
  });
});
