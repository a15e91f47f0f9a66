/** Places of small grids of each template beside ecCodes, and what is refused in each. */
import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import { concat, f32, microdegrees, plainMessage, s32, u8, u32 } from '../../support/grib2-builder.ts';
import { readAll } from '../../support/grib2-compare.ts';
import { grib2ErrorOf, offsetOf, unsupported } from '../../support/grib2-errors.ts';
import {
  type GridBuilder,
  gaussian,
  gridOf,
  mercator,
  polar,
  rotated,
  southPolar,
  transverseMercator,
} from '../../support/grib2-grids.ts';

type Entries = Readonly<Record<number, readonly number[]>>;
const [NX, NY] = [6, 4];
const VALUES = Array.from({ length: NX * NY }, (_, n) => n);
const SIZE = { nx: NX, ny: NY };

/** Degrees of arc; what ecCodes rounds to is named beside each table. */
async function compareAll(
  cases: readonly (readonly [string, Uint8Array])[],
  mostDeg: number,
): Promise<number> {
  const bytes = concat(cases.map(([, section3]) => plainMessage(VALUES, section3)));
  const truths = eccodesFieldsOf(bytes, { places: true });
  const items = await readAll(bytes);
  let compared = 0;
  for (const [n, item] of items.entries()) {
    if (item.kind !== 'field') throw new Error(`${cases[n]![0]}: ${item.kind}`);
    for (const [at, latDeg] of truths[n]!.latDeg.entries()) {
      const ours = item.field.grid.toLatLon(at % NX, Math.floor(at / NX));
      const eastDeg = ((ours.lonDeg - truths[n]!.lonDeg[at]! + 540) % 360) - 180;
      const northDeg = ours.latDeg - latDeg;
      const apartDeg = Math.hypot(northDeg, eastDeg * Math.cos((latDeg * Math.PI) / 180));
      expect(apartDeg, `${cases[n]![0]}, point ${at}`).toBeLessThan(mostDeg);
      compared += 1;
    }
  }
  return compared;
}

/** The octet of section 3 at which a grid is refused. */
const octetOf = (make: GridBuilder, entries: Entries, scanning?: number) =>
  offsetOf(
    grib2ErrorOf(() => gridOf(make({ ...SIZE, ...(scanning === undefined ? {} : { scanning }) }, entries))),
  ) + 1;
const refusalOf = (make: GridBuilder, entries: Entries) =>
  unsupported(grib2ErrorOf(() => gridOf(make(SIZE, entries))));

describe('template 3.1: rotated latitude and longitude', () => {
  const poles: Entries[] = [
    {},
    { 73: microdegrees(-90), 77: microdegrees(0) },
    { 73: microdegrees(-36.08852), 77: microdegrees(245.305142) },
    { 73: microdegrees(-35), 77: microdegrees(247) },
    { 73: microdegrees(36), 77: microdegrees(18) },
    { 73: microdegrees(0), 77: microdegrees(180) },
    { 47: microdegrees(-2), 56: microdegrees(1), 51: microdegrees(357), 60: microdegrees(2) },
    { 47: microdegrees(87), 56: microdegrees(90) },
  ];

  test('every point of eight grids lies where ecCodes has it (which rounds to single precision: 8e-6 deg)', async () => {
    const cases = poles.map(
      (entries, n) =>
        [`pole ${n}`, rotated({ ...SIZE, scanning: 0x40 }, { 56: microdegrees(53), ...entries })] as const,
    );
    expect(await compareAll(cases, 1.2e-5)).toBe(poles.length * NX * NY);
  });

  test('a longitude of the pole may be negative (ecCodes takes it for a positive one)', () => {
    const east = gridOf(rotated(SIZE, { 77: microdegrees(247) }));
    expect(gridOf(rotated(SIZE, { 77: microdegrees(-113) })).key).toBe(east.key);
  });

  test('a turn about the new pole is refused by octet', () => {
    expect(refusalOf(rotated, { 81: f32(10) })).toEqual(['grid definition template 3.1, octets 81-84', '10']);
    expect(refusalOf(rotated, { 81: f32(Number.NaN) })[1]).toBe('NaN');
  });

  test('rows of unequal length, by code table 3.11', () => {
    expect(refusalOf(rotated, { 11: u8(2), 12: u8(1) })).toEqual(['code table 3.11', '1']);
  });

  test.each([
    ['a pole beyond the pole', { 73: microdegrees(-91) }, 73],
    ['a longitude of the pole beyond a turn', { 77: microdegrees(361) }, 77],
    ['a last longitude a whole step off', { 60: microdegrees(16) }, 60],
    ['a last latitude on the wrong side', { 56: microdegrees(53) }, 56],
    ['another number of points', { 7: u32(23) }, 7],
  ] as const)('%s', (_, entries, octet) => {
    expect(octetOf(rotated, entries, 0)).toBe(octet);
  });
});

describe('template 3.10: Mercator', () => {
  const lastOnWgs84 = { 52: microdegrees(15.278466), 56: microdegrees(200.477796) };

  test('every point of six grids lies where ecCodes has it (to rounding)', async () => {
    const cases = [
      ['plain', mercator(SIZE)],
      [
        'true on the equator',
        mercator(SIZE, { 48: microdegrees(0), 56: microdegrees(200.449645), 52: microdegrees(15.260434) }),
      ],
      ['true at 20 S', mercator(SIZE, { 48: microdegrees(-20) })],
      ['on WGS84', mercator(SIZE, { 15: u8(5), ...lastOnWgs84 })],
      ['from 20 S up', mercator(SIZE, { 39: microdegrees(-20), 52: microdegrees(-19.729983) })],
      ['across Greenwich', mercator(SIZE, { 43: microdegrees(359.8), 56: microdegrees(0.278502) })],
    ] as const;
    expect(await compareAll(cases, 1e-9)).toBe(6 * NX * NY);
  });

  test('a grid at an angle to the equator is refused by octet', () => {
    expect(refusalOf(mercator, { 61: u32(30_000_000) })).toEqual([
      'grid definition template 3.10, octets 61-64',
      '30000000',
    ]);
  });

  test('a circle of columns wraps east', () => {
    const stepM = (6_371_229 * 2 * Math.PI * Math.cos(Math.PI / 9)) / 36;
    const entries = { 65: u32(Math.round(stepM * 1000)), 43: u32(0), 56: microdegrees(350) };
    const grid = gridOf(mercator({ nx: 36, ny: 2 }, entries));
    expect(grid.wrapsEast).toBe(true);
    expect(grid.toIndex(15, -5).i).toBeCloseTo(35.5, 6);
  });

  test.each([
    ['a first point at the pole', { 39: microdegrees(90) }, 39],
    ['lengths true at the pole', { 48: microdegrees(-90) }, 48],
    ['no length in x', { 65: u32(0) }, 65],
    ['a length in y that is missing', { 69: u32(0xffffffff) }, 69],
    ['a last latitude a step off', { 52: microdegrees(15.36) }, 52],
    ['a last longitude a step off', { 56: microdegrees(200.57) }, 52],
  ] as const)('%s', (_, entries, octet) => {
    expect(octetOf(mercator, entries)).toBe(octet);
  });

  test('a last point is held to 2 % of the rows, where that is more than a step: the lengths place the points', () => {
    const tall = { nx: 2, ny: 201 };
    const lastOf = (rows: number) => ({
      52: microdegrees(gridOf(mercator({ nx: 2, ny: 201 })).toLatLon(0, rows).latDeg),
    });
    const place = gridOf(mercator(tall)).toLatLon(1, 200);
    expect(gridOf(mercator(tall, lastOf(203))).toLatLon(1, 200)).toEqual(place);
    const error = grib2ErrorOf(() => gridOf(mercator(tall, lastOf(205))));
    expect(offsetOf(error)).toBe(51);
  });

  test('alternating rows may end at either side', () => {
    expect(gridOf(mercator({ ...SIZE, scanning: 0x50 }, { 56: microdegrees(200) })).nx).toBe(NX);
    expect(octetOf(mercator, { 56: microdegrees(200) })).toBe(52);
  });
});

describe('template 3.20: polar stereographic', () => {
  test('every point of seven grids lies where ecCodes has it (to rounding)', async () => {
    const cases = [
      ['north', polar(SIZE)],
      ['north, true at the pole', polar(SIZE, { 48: microdegrees(90) })],
      ['north, true at 0', polar(SIZE, { 48: microdegrees(0) })],
      ['north, with the pole on the first row', polar(SIZE, { 39: microdegrees(90), 43: microdegrees(0) })],
      ['south', southPolar(SIZE)],
      ['south, another meridian upright', southPolar(SIZE, { 52: microdegrees(0) })],
      [
        'south, on a sphere that the producer gives',
        southPolar(SIZE, { 15: u8(1), 16: u8(0), 17: u32(6_370_000) }),
      ],
    ] as const;
    expect(await compareAll(cases, 1e-9)).toBe(7 * NX * NY);
  });

  test.each([
    ['north', polar, -60],
    ['south', southPolar, 60],
  ] as const)(
    'lengths about the %s pole that are true in the other hemisphere are refused by octet',
    (_, make, latDeg) => {
      expect(refusalOf(make, { 48: microdegrees(latDeg) })).toEqual([
        'grid definition template 3.20, octets 48-51',
        String(latDeg),
      ]);
    },
  );

  test.each([
    ['a first point at the other pole', { 39: microdegrees(-90) }, 39],
    ['a first longitude in two\u2019s complement', { 43: [0xfa, 0x0a, 0x1f, 0x00] }, 43],
    ['no length in x', { 56: u32(0) }, 56],
    ['no length in y', { 60: u32(0) }, 60],
  ] as const)('%s', (_, entries, octet) => {
    expect(octetOf(polar, entries)).toBe(octet);
  });
});

describe('template 3.12: transverse Mercator', () => {
  /** PROJ 9.1.1, +proj=tmerc +lon_0=-117 +k=0.9996 +x_0=500000 +ellps=WGS84, at 440 km and 445 km E, 3750 km and 3753 km N. */
  const CORNERS = [
    [0, 0, -117.64886680338, 33.88865664804],
    [5, 0, -117.59479723833, 33.88892953562],
    [0, 3, -117.64907180176, 33.91571209848],
    [5, 3, -117.59498515692, 33.91598526295],
  ] as const;

  test('corners lie where another library has them', () => {
    const grid = gridOf(transverseMercator(SIZE));
    for (const [i, j, lonDeg, latDeg] of CORNERS) {
      const place = grid.toLatLon(i, j);
      // The scale of the file is a single: 7e-9 of 3750 km is 2.6 cm, 2.4e-7 deg.
      expect(Math.hypot(place.lonDeg - lonDeg, place.latDeg - latDeg)).toBeLessThan(3e-7);
    }
  });

  test('a reference longitude in two\u2019s complement is the same as in sign and magnitude', () => {
    const grid = gridOf(transverseMercator(SIZE, { 43: [0xf9, 0x06, 0xb8, 0xc0] }));
    expect(grid.key).toBe(gridOf(transverseMercator(SIZE)).key);
    expect(octetOf(transverseMercator, { 43: [0xff, 0xff, 0xff, 0xff] })).toBe(43);
    expect(octetOf(transverseMercator, { 43: microdegrees(361) })).toBe(43);
  });

  test('false easting and northing shift the numbers, not the places', () => {
    const shifted = gridOf(
      transverseMercator(SIZE, {
        ...{ 52: s32(0), 56: s32(-100_000_000), 69: s32(-6_000_000), 73: s32(275_000_000) },
        ...{ 77: s32(-5_500_000), 81: s32(275_300_000) },
      }),
    );
    expect(shifted.toLatLon(2, 1)).toEqual(gridOf(transverseMercator(SIZE)).toLatLon(2, 1));
  });

  test.each([
    ['a scale of 0', { 48: f32(0) }, 48],
    ['a scale that is no number', { 48: f32(Number.NaN) }, 48],
    ['a last x a step off', { 77: s32(44_600_000) }, 77],
    ['a last y before the first', { 81: s32(374_700_000) }, 81],
    ['no length in x', { 61: u32(0) }, 61],
    ['a reference latitude beyond the pole', { 39: microdegrees(91) }, 39],
  ] as const)('%s', (_, entries, octet) => {
    expect(octetOf(transverseMercator, entries)).toBe(octet);
  });

  test('a grid that reaches beyond the half of the earth on the map is refused', () => {
    const entries = { 61: u32(400_000_000), 77: s32(2_044_000_000) };
    expect(octetOf(transverseMercator, entries)).toBe(31);
  });
});

describe('template 3.40: Gaussian', () => {
  test('every point of five grids lies where ecCodes has it (to rounding)', async () => {
    const from = (first: number, last: number) => ({ 47: microdegrees(first), 56: microdegrees(last) });
    const cases = [
      ['from the north', gaussian(SIZE)],
      ['from the second parallel', gaussian(SIZE, from(85.096527, 76.7369))],
      ['across the equator', gaussian(SIZE, from(4.185921, -4.185921))],
      ['in the far south', gaussian(SIZE, from(-79.525607, -87.863799))],
      ['corners rounded to thousandths', gaussian(SIZE, from(87.864, 79.526))],
    ] as const;
    expect(await compareAll(cases, 1e-9)).toBe(5 * NX * NY);
  });

  test('reduced grids are refused by name and by code table 3.11', () => {
    const error = grib2ErrorOf(() =>
      gridOf(gaussian(SIZE, { 11: u8(2), 12: u8(1), 31: [0xff, 0xff, 0xff, 0xff] })),
    );
    expect(error.message).toContain('quasi-regular (reduced) Gaussian grid');
    expect(unsupported(error)).toEqual(['code table 3.11', '1']);
  });

  test('more parallels than are in use are refused', () => {
    expect(refusalOf(gaussian, { 68: u32(2049) })).toEqual(["this reader's limit of 2048", '2049']);
    expect(refusalOf(gaussian, { 68: u32(0xffffffff) })[1]).toBe('4294967295');
  });

  test.each([
    ['no parallels', { 68: u32(0) }, 68],
    ['fewer parallels than half the rows', { 68: u32(1) }, 68],
    ['a first latitude between parallels', { 47: microdegrees(86.5) }, 47],
    ['a first latitude beyond the pole', { 47: microdegrees(93) }, 47],
    ['a last latitude of another row', { 56: microdegrees(82.312913) }, 56],
    ['a last longitude a step off', { 60: microdegrees(26.875) }, 60],
  ] as const)('%s', (_, entries, octet) => {
    expect(octetOf(gaussian, entries)).toBe(octet);
  });

  test('rows beyond the last parallel', () => {
    const entries = { 47: microdegrees(-87.863799), 56: microdegrees(-87.863799) };
    expect(octetOf(gaussian, entries)).toBe(56);
  });
});
