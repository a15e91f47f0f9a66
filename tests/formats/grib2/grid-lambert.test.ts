import { describe, expect, test } from 'vitest';
import { gridFromDefinition } from '../../../worker/formats/grib2/grid-definition.ts';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import { concat, lambert, microdegrees, plainMessage, u8, u32 } from '../../support/grib2-builder.ts';
import { readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

type Entries = Readonly<Record<number, readonly number[]>>;
const [NX, NY] = [9, 7];
const VALUES = Array.from({ length: NX * NY }, (_, n) => n);

const made = (entries: Entries = {}, scanning = 0x40) =>
  plainMessage(VALUES, lambert({ nx: NX, ny: NY, scanning }, entries));
const gridOf = async (entries: Entries = {}, scanning?: number) =>
  (await readOne(made(entries, scanning))).grid;
const rejected = async (entries: Entries) => rejectionOf(await readAll(made(entries)));
const parallels = (lat1Deg: number, lat2Deg: number): Entries => ({
  48: microdegrees(lat1Deg),
  66: microdegrees(lat1Deg),
  70: microdegrees(lat2Deg),
});

describe('a Lambert conformal grid', () => {
  const CASES: readonly (readonly [string, Entries])[] = [
    ['tangent cone on a sphere', {}],
    ['secant cone', parallels(33, 45)],
    ['parallels the other way round', parallels(45, 33)],
    ['across the date line', { 43: microdegrees(179.9), 52: microdegrees(182) }],
    ['coarse: 300 km', { 56: u32(300_000_000), 60: u32(300_000_000) }],
    ['on the sphere of 6 367 470 m', { 15: u8(0) }],
    ['on a sphere that the producer gives', { 15: u8(1), 16: u8(1), 17: u32(63_712_000) }],
    ['on WGS84', { 15: u8(5) }],
    ['secant on GRS80', { 15: u8(4), ...parallels(33, 45) }],
    ['on axes given in m', { 15: u8(7), 22: u32(6_378_160), 27: u32(6_356_775) }],
  ];

  test('every point of ten grids lies where ecCodes has it', async () => {
    const bytes = concat(CASES.map(([, entries]) => made(entries)));
    const truths = eccodesFieldsOf(bytes, { places: true });
    const items = await readAll(bytes);
    let compared = 0;
    for (const [n, item] of items.entries()) {
      if (item.kind !== 'field') throw new Error(`${CASES[n]![0]}: ${item.kind}`);
      const { grid } = item.field;
      for (const [at, latDeg] of truths[n]!.latDeg.entries()) {
        const ours = grid.toLatLon(at % NX, Math.floor(at / NX));
        const eastDeg = ((ours.lonDeg - truths[n]!.lonDeg[at]! + 540) % 360) - 180;
        expect(Math.hypot(ours.latDeg - latDeg, eastDeg), `${CASES[n]![0]}, point ${at}`).toBeLessThan(1e-6);
        compared += 1;
      }
    }
    expect(compared).toBe(CASES.length * NX * NY);
  });

  test('toIndex undoes toLatLon, inside and well outside the grid', async () => {
    let compared = 0;
    for (const [name, entries] of CASES) {
      const grid = await gridOf(entries);
      for (let i = -3.5; i < 12; i += 1.25) {
        for (let j = -2.25; j < 9; j += 1.5) {
          const { latDeg, lonDeg } = grid.toLatLon(i, j);
          const back = grid.toIndex(latDeg, lonDeg);
          expect(Math.hypot(back.i - i, back.j - j), `${name} ${i} ${j}`).toBeLessThan(1e-6);
          compared += 1;
        }
      }
    }
    expect(compared).toBe(CASES.length * 13 * 8);
  });

  test.each([0x00, 0x40, 0x80, 0xc0])(
    'a definition through JSON gives the same grid, mode %i',
    async (mode) => {
      const grid = await gridOf({ 15: u8(5) }, mode);
      const again = gridFromDefinition(JSON.parse(JSON.stringify(grid.definition)));
      expect(again.key).toBe(grid.key);
      expect(again.toIndex(40.3, -99.7)).toEqual(grid.toIndex(40.3, -99.7));
      expect([again.windsAlongGrid, again.windAngleRad(40, -90)]).toEqual([true, grid.windAngleRad(40, -90)]);
    },
  );
});

describe('winds', () => {
  test('follow the grid when flag 0x08 of table 3.3 is set, else east and north', async () => {
    expect((await gridOf({ 47: u8(0x08) })).windsAlongGrid).toBe(true);
    expect((await gridOf({ 47: u8(0x30) })).windsAlongGrid).toBe(false);
  });

  test('turn by nothing on the central meridian, either way round the date line by the short way', async () => {
    const grid = await gridOf({ 52: microdegrees(179) });
    expect(grid.windAngleRad(40, 179)).toBe(0);
    expect(grid.windAngleRad(40, -179)).toBeCloseTo(
      Math.sin((38.5 * Math.PI) / 180) * ((2 * Math.PI) / 180),
      12,
    );
  });
});

describe('Lambert grids that are refused', () => {
  const SECTION_3 = 16 + 21;

  test.each([
    ['a parallel at the pole', parallels(90, 90), 66],
    ['parallels opposite to each other', parallels(30, -30), 66],
    ['no length in x', { 56: u32(0) }, 56],
    ['no length in y', { 60: u32(0) }, 60],
    ['a first latitude beyond the pole', { 39: microdegrees(90.5) }, 39],
    ['a first longitude in two\u2019s complement', { 43: [0xfa, 0x0a, 0x1f, 0x00] }, 43],
    ['a central longitude beyond a turn', { 52: microdegrees(361) }, 52],
    ['another number of points', { 7: u32(62) }, 7],
  ] as const)('%s', async (_, entries, octet) => {
    expect(offsetOf(await rejected(entries))).toBe(SECTION_3 + octet - 1);
  });

  test('a bi-polar projection, by flag table 3.5', async () => {
    expect(unsupported(await rejected({ 64: u8(0x40) }))).toEqual(['flag table 3.5', '0x40']);
  });

  test('grid lengths that are true away from the parallels, when that moves the far end by a tenth of a cell', async () => {
    const error = await rejected({ 48: microdegrees(20) });
    expect(unsupported(error)).toEqual(['grid definition template 3.30, octets 48-51', '20']);
    expect((await gridOf({ 48: microdegrees(38) })).nx).toBe(NX);
  });
});
