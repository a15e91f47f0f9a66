import { describe, expect, test } from 'vitest';
import { ByteReader } from '../../../worker/formats/byte-reader.ts';
import { readEarthShape } from '../../../worker/formats/grib2/earth-shape.ts';
import { section, u8, u32 } from '../../support/grib2-builder.ts';
import { grib2ErrorOf, offsetOf, unsupported } from '../../support/grib2-errors.ts';

type Entries = Readonly<Record<number, readonly number[]>>;

const shapeOf = (entries: Entries) =>
  readEarthShape(
    new ByteReader(section(3, 30, entries), { format: 'GRIB2', name: 'section 3', offsetBytes: 0 }),
  );
/** Scale factor and scaled value. */
const axis = (octet: number, factor: number, scaled: number): Entries => ({
  [octet]: u8(factor),
  [octet + 1]: u32(scaled),
});

/** Semi-minor axes of code table 3.2, m, as that table prints them beside the flattening; from memory but for 0, 6 and 8. */
describe('the shapes that code table 3.2 names', () => {
  test.each([
    [0, 6_367_470, 6_367_470],
    [2, 6_378_160, 6_356_775],
    [4, 6_378_137, 6_356_752.314],
    [5, 6_378_137, 6_356_752.3142],
    [6, 6_371_229, 6_371_229],
    [8, 6_371_200, 6_371_200],
    [9, 6_377_563.396, 6_356_256.909],
  ])('shape %i has axes of %f m and %f m', (shape, majorM, minorM) => {
    const { semiMajorAxisM, flattening } = shapeOf({ 15: u8(shape) });
    expect(semiMajorAxisM).toBe(majorM);
    expect(Math.abs(semiMajorAxisM * (1 - flattening) - minorM)).toBeLessThan(0.001);
  });

  test.each([10, 11, 255])('shape %i is refused by code table 3.2', (shape) => {
    expect(unsupported(grib2ErrorOf(() => shapeOf({ 15: u8(shape) })))).toEqual([
      'code table 3.2',
      String(shape),
    ]);
  });
});

describe('shapes that the producer gives', () => {
  test('a sphere of a scaled radius in m', () => {
    const sphere = shapeOf({ 15: u8(1), ...axis(16, 1, 63_712_000) });
    expect(sphere).toEqual({ semiMajorAxisM: 6_371_200, flattening: 0 });
  });

  /** Clarke 1866: 6 378 206.4 m and 6 356 583.8 m. */
  test.each([
    ['km', 3, axis(21, 4, 63_782_064), axis(26, 4, 63_565_838)],
    ['m', 7, axis(21, 1, 63_782_064), axis(26, 1, 63_565_838)],
    ['m in hundredths', 7, axis(21, 2, 637_820_640), axis(26, 2, 635_658_380)],
  ])('axes in %s, to the last digit', (_, shape, major, minor) => {
    const { semiMajorAxisM, flattening } = shapeOf({ 15: u8(shape), ...major, ...minor });
    expect(semiMajorAxisM).toBeCloseTo(6_378_206.4, 6);
    expect(semiMajorAxisM * (1 - flattening)).toBeCloseTo(6_356_583.8, 6);
  });

  test('a negative scale factor multiplies', () => {
    expect(shapeOf({ 15: u8(1), ...axis(16, 0x82, 63_712) }).semiMajorAxisM).toBe(6_371_200);
  });

  test.each([
    ['a radius in km where m are due', { 15: u8(1), ...axis(16, 0, 6371) }, 16],
    ['a radius that is missing', { 15: u8(1), ...axis(16, 255, 0xffffffff) }, 16],
    ['a major axis in m where km are due', { 15: u8(3), ...axis(21, 0, 6_378_137) }, 21],
    ['no minor axis', { 15: u8(7), ...axis(21, 0, 6_378_137) }, 26],
    ['axes exchanged', { 15: u8(7), ...axis(21, 0, 6_356_752), ...axis(26, 0, 6_378_137) }, 26],
    [
      'an earth three times too flat',
      { 15: u8(7), ...axis(21, 0, 6_378_137), ...axis(26, 0, 6_310_000) },
      26,
    ],
  ])('%s: refused with the octet', (_, entries, octet) => {
    expect(offsetOf(grib2ErrorOf(() => shapeOf(entries)))).toBe(octet - 1);
  });
});
