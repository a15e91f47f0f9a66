import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import {
  DESCRIBED_PARAMETERS,
  describeLevel,
  describeParameter,
} from '../../../worker/formats/grib2/code-tables.ts';
import { ECCODES_PYTHON } from '../../support/eccodes.ts';

const SCRIPT = new URL('../../support/eccodes-names.py', import.meta.url).pathname;

/** `kg m-2 s-1` and `kg/m2/s` are one; so are Numeric and numeric. */
const plain = (unit: string) =>
  unit
    .toLowerCase()
    .replace(/ m-2/g, '/m2')
    .replace(/ s-2/g, '/s2')
    .replace(/ kg-1/g, '/kg')
    .replace(/ s-1/g, '/s');

describe('words for parameters', () => {
  test('are those of code table 4.2 as ecCodes prints it, name and unit', () => {
    const keys = DESCRIBED_PARAMETERS.map(
      ({ discipline, category, number }) => `${discipline}.${category}.${number}`,
    );
    const run = spawnSync(ECCODES_PYTHON, [SCRIPT, ...keys]);
    expect(run.status, run.stderr.toString()).toBe(0);
    const lines = run.stdout.toString().trim().split('\n');
    let compared = 0;
    for (const [n, line] of lines.entries()) {
      const [name = '', unit = ''] = line.split('\t');
      const ours = describeParameter(DESCRIBED_PARAMETERS[n]!);
      expect([ours.name, plain(ours.unit ?? '')], keys[n]).toEqual([name.toLowerCase(), plain(unit)]);
      compared += 1;
    }
    expect(compared).toBe(44);
  });

  test('a parameter without words is told by its numbers, without a unit', () => {
    expect(describeParameter({ discipline: 0, category: 1, number: 192 })).toEqual({
      name: 'discipline 0 category 1 number 192',
      unit: undefined,
    });
  });
});

describe('words for surfaces', () => {
  test.each([
    [{ type: 100, value: 85_000 }, 'isobaric surface 85000 Pa'],
    [{ type: 105, value: 12 }, 'hybrid level 12 1'],
    [{ type: 1, value: Number.NaN }, 'ground or water surface'],
    [{ type: 200, value: Number.NaN }, 'surface 200'],
    [{ type: 213, value: 3 }, 'surface 213 3'],
  ])('%o', (level, words) => {
    expect(describeLevel(level)).toBe(words);
  });
});
