/** The rows of the cue card: part by part, unknown and ice-free told apart, and what a thinner rod shows. */
import { expect, it } from 'vitest';
import {
  type CueRow,
  cueRows,
  grownMm,
  highSettingFrom,
  watchFigures,
} from '../../../web/src/flight/cue-rows.ts';
import { AIRCRAFT, at, briefIn } from './deck-brief.ts';

const figures = { aircraft: AIRCRAFT, rodDiameterMm: 12 };
const rowOf = (rows: readonly CueRow[] | undefined, part: string) => rows?.find((each) => each.part === part);

it('level in a deck every part has its ice, its growth and a way out', async () => {
  const brief = await briefIn('deck');
  const rows = cueRows(brief, at(brief, 9000), figures);
  for (const part of ['climb', 'cruise', 'descent']) {
    const row = rowOf(rows, part)!;
    if (row.air.kind !== 'ice') throw new Error(`${part}: ${row.air.kind}`);
    const { growthMps, worse, severe } = row.air.cue;
    expect(growthMps.low).toBeLessThanOrEqual(growthMps.middle);
    expect(growthMps.middle).toBeLessThanOrEqual(growthMps.high);
    expect(severe, part).toBeDefined();
    // Where the high estimate is as fast as severe, severe alone is told.
    const rate = ({ thicknessM, durationS }: { thicknessM: number; durationS: number }) =>
      thicknessM / durationS;
    if (worse === undefined) expect(growthMps.high).toBeGreaterThan(rate(severe!) / 2);
    else expect(rate(worse)).toBeGreaterThanOrEqual(growthMps.high * (1 - 1e-9));
    expect(row.ways.length, part).toBeGreaterThan(0);
    expect(row.iceMinutes).toBeGreaterThan(0);
  }
});

it('a thinner rod shows more in the same time', async () => {
  const brief = await briefIn('deck');
  const high = (rodDiameterMm: number) => {
    const row = rowOf(cueRows(brief, at(brief, 9000), { ...figures, rodDiameterMm }), 'cruise');
    return row?.air.kind === 'ice' ? row.air.cue.growthMps.high : Number.NaN;
  };
  expect(high(5)).toBeGreaterThan(high(30));
});

it('dry air is no ice on the trip, and without data it is unknown, never no ice', async () => {
  const [dry, unknown] = [await briefIn('dry'), await briefIn('unknown')];
  const kinds = (brief: typeof dry) => cueRows(brief, at(brief, 9000), figures)!.map(({ air }) => air.kind);
  expect(kinds(dry)).toEqual(['no-ice', 'no-ice', 'no-ice']);
  const ofUnknown = kinds(unknown);
  expect(ofUnknown).toContain('unknown');
  expect(ofUnknown).not.toContain('no-ice');
});

it('a part whose air holds nothing and that a report speaks of is not called free of ice', async () => {
  const brief = await briefIn('dry');
  const candidate = at(brief, 9000);
  const parts = candidate.exposure!.parts.map((part) =>
    part.part === 'climb' ? { ...part, reported: ['AAAA reports freezing rain'] } : part,
  );
  const rows = cueRows(brief, { ...candidate, exposure: { ...candidate.exposure!, parts } }, figures);
  expect(rowOf(rows, 'climb')).toMatchObject({
    air: { kind: 'reported' },
    reported: ['AAAA reports freezing rain'],
  });
});

it('an altitude that was not flown has no rows', async () => {
  const brief = await briefIn('dry');
  expect(cueRows(brief, { ...at(brief, 9000), exposure: null }, figures)).toBeUndefined();
});

it('named large drops are left at their first sign, without a figure', async () => {
  const brief = await briefIn('deck');
  const candidate = at(brief, 9000);
  const parts = candidate.exposure!.parts.map((part) =>
    part.ice === null ? part : { ...part, ice: { ...part.ice, hasLargeDrops: true } },
  );
  const rows = cueRows(brief, { ...candidate, exposure: { ...candidate.exposure!, parts } }, figures);
  expect(rowOf(rows, 'climb')!.air).toEqual({ kind: 'large-drops', ice: expect.anything() });
  expect(highSettingFrom(rows!)).toBeUndefined();
});

it('the high setting begins below what is severe', async () => {
  const brief = await briefIn('deck');
  const rows = cueRows(brief, at(brief, 9000), figures)!;
  const from = watchFigures(highSettingFrom(rows)!);
  const cruise = rowOf(rows, 'cruise')!.air;
  if (cruise.kind !== 'ice') throw new Error(cruise.kind);
  const severe = watchFigures(cruise.cue.severe!);
  expect(from.mm / from.minutes).toBeLessThan(severe.mm / severe.minutes);
});

it('millimeters stand to a tenth, from ten on whole', () => {
  // 0.123 mm/min: 0.1 after one, 1.2 after ten; 1.04 mm/min: 10 after ten.
  expect(grownMm(0.123 / 60_000, 1)).toBe(0.1);
  expect(grownMm(0.123 / 60_000, 10)).toBe(1.2);
  expect(grownMm(1.04 / 60_000, 10)).toBe(10);
});
