import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readInventory } from '../../worker/formats/inventory.ts';
import { wantedEntries } from '../../worker/sources/inventory-fields.ts';
import { lostFields } from '../../worker/sources/inventory-levels.ts';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import { DEFAULT_PLAN_LIMITS, planRanges } from '../../worker/sources/range-plan.ts';

const FOLDER = `${process.env.RIMEWAY_DATA_DIR}/grib2/idx/`;
const { origin } = OPEN_MODELS['gfs-0p25'];

const inventoryOf = (name: string) => readInventory(readFileSync(FOLDER + name, 'utf8'));

function countsOf(names: readonly string[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const name of names) counts[name] = (counts[name] ?? 0) + 1;
  return counts;
}

describe('the index of GFS 0.25 degrees of 24 July 2026', () => {
  const { entries } = inventoryOf('gfs-0p25-2026072400-f000.inv');
  const hour = { runMs: Date.UTC(2026, 6, 24), forecastHour: 0 };
  const { wanted } = wantedEntries(entries, origin, hour);

  test('has the air of 21 levels, the ground and the kinds of precipitation', () => {
    expect(countsOf(wanted.map(({ entry }) => entry.parameter))).toEqual({
      ...{ TMP: 22, SPFH: 22, HGT: 22, UGRD: 22, VGRD: 22 },
      ...{ VVEL: 21, CLMR: 21, ICMR: 21, RWMR: 21, SNMR: 21, GRLE: 21, TCDC: 21 },
      ...{ PRES: 1, CRAIN: 1, CFRZR: 1, CICEP: 1, CSNOW: 1 },
    });
  });

  test('lacks nothing that every hour has, and shows what a cut takes from it', () => {
    expect(lostFields(wanted)).toEqual([]);
    const cutAt = entries.findIndex(({ level }) => level === '850 mb');
    expect(lostFields(wantedEntries(entries.slice(0, cutAt), origin, hour).wanted)).toContain(
      'temperatureK at 1000, 925, 850 hPa',
    );
  });

  test('is planned as 155 MB of the 500 of its file, in fewer than a hundred requests', () => {
    const wantedLines = wanted.map(({ entry }) => entry);
    const plan = planRanges(wantedLines, entries, DEFAULT_PLAN_LIMITS);
    expect(plan.ranges).toHaveLength(89);
    expect(plan).toMatchObject({ totalBytes: 154_594_205, gapBytes: 0 });
    const joined = planRanges(wantedLines, entries, { ...DEFAULT_PLAN_LIMITS, joinGapBytes: 2 ** 20 });
    expect(joined.ranges).toHaveLength(47);
    expect(joined.totalBytes / plan.totalBytes).toBeCloseTo(1.25, 2);
  });
});

test('of an index whose offsets wrap at 32 bits only what lies before is planned', () => {
  const { entries, rejected } = inventoryOf('rrfs-prslev-2024020118.inv');
  const hour = { runMs: Date.UTC(2024, 1, 1, 18), forecastHour: 4 };
  const lines = wantedEntries(entries, origin, hour).wanted.map(({ entry }) => entry);
  expect(rejected.length).toBeGreaterThan(700);
  const limits = { ...DEFAULT_PLAN_LIMITS, greatestTotalBytes: 2 ** 30 };
  const { ranges } = planRanges(lines, entries, limits);
  expect(ranges.at(-1)!.lastByte).toBeLessThan(2 ** 31);
  const levels = new Set(lines.map(({ level }) => level));
  expect([...levels][0]).toBe('100 mb');
  expect(levels.has('850 mb')).toBe(false);
});
