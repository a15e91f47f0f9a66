import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import {
  concat,
  data,
  identification,
  latLon,
  MISSING_32,
  message,
  noBitmap,
  product,
  s8,
  s32,
  simple,
  u8,
  u16,
  u32,
} from '../../support/grib2-builder.ts';
import { differences, readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

type Entries = Readonly<Record<number, readonly number[]>>;

interface Parts {
  readonly section1?: Entries;
  readonly section4?: Entries;
  readonly length?: number;
  readonly discipline?: number;
}

const made = ({ section1 = {}, section4 = {}, length = 34, discipline = 0 }: Parts) =>
  message(
    [
      ...[identification(section1), latLon({ nx: 2, ny: 1 }), product(section4, length)],
      ...[simple({ count: 2, bits: 0 }), noBitmap(), data(new Uint8Array(0))],
    ],
    discipline,
  );
const rejected = async (parts: Parts) => rejectionOf(await readAll(made(parts)));
const utc = (timeMs: number) => new Date(timeMs).toISOString();

/** End of the interval: 2024-01-16 06:30:15. */
const end = (octet: number): Entries => ({
  [octet]: u16(2024),
  [octet + 2]: u8(1),
  [octet + 3]: u8(16),
  [octet + 4]: u8(6),
  [octet + 5]: u8(30),
  [octet + 6]: u8(0),
  [octet + 7]: u8(1),
});

/** What `product` writes, further back: the octets in front are 0, and the surfaces may be moved by less than the rest. */
function moved(shift: number, entries: Entries, surfaceShift = 0): Entries {
  const surface = 23 + shift + surfaceShift;
  return {
    ...{ 14: u8(0), 18: u8(0), 19: u32(0), 23: u8(0), 25: u32(0), 29: u8(0), 30: u8(0), 31: u32(0) },
    [14 + shift]: u8(96),
    [18 + shift]: u8(1),
    ...(surfaceShift === 0 ? { [19 + shift]: u32(6) } : {}),
    [surface]: u8(100),
    [surface + 2]: u32(85_000),
    [surface + 6]: u8(255),
    [surface + 7]: u8(255),
    [surface + 8]: MISSING_32,
    ...entries,
  };
}

describe('what a field is of, each message also read by ecCodes', () => {
  const CASES: readonly (readonly [string, Parts])[] = [
    ['temperature at 850 hPa, 6 hours on', {}],
    ['another discipline, category and number', { discipline: 10, section4: { 10: u8(3), 11: u8(1) } }],
    ['20 minutes on', { section4: { 18: u8(0), 19: u32(20) } }],
    ['2 days on', { section4: { 18: u8(2), 19: u32(2) } }],
    ['4 times 3 hours on', { section4: { 18: u8(10), 19: u32(4) } }],
    ['5 times 6 hours on', { section4: { 18: u8(11), 19: u32(5) } }],
    ['3 times 12 hours on', { section4: { 18: u8(12), 19: u32(3) } }],
    ['7200 seconds on', { section4: { 18: u8(13), 19: u32(7200) } }],
    ['2 m above ground', { section4: { 23: u8(103), 25: u32(2) } }],
    ['a level with one decimal', { section4: { 23: u8(103), 24: s8(1), 25: u32(15) } }],
    ['a level in hundreds', { section4: { 24: s8(-2), 25: u32(975) } }],
    ['a surface without a value', { section4: { 23: u8(1), 24: u8(255), 25: MISSING_32 } }],
    ['a layer', { section4: { 29: u8(100), 30: u8(0), 31: u32(70_000) } }],
    ['an ensemble member, template 4.1', { section4: { 8: u16(1) }, length: 37 }],
    ['an ensemble mean, template 4.2', { section4: { 8: u16(2) }, length: 36 }],
    ['an interval, template 4.8', { section4: { 8: u16(8), ...end(35) }, length: 58 }],
    ['an interval of a member, template 4.11', { section4: { 8: u16(11), ...end(38) }, length: 61 }],
    ['an interval of a mean, template 4.12', { section4: { 8: u16(12), ...end(37) }, length: 60 }],
    ['a probability, template 4.5', { section4: { 8: u16(5) }, length: 47 }],
    ['a percentile, template 4.6', { section4: { 8: u16(6) }, length: 35 }],
    ['a probability over an interval, template 4.9', { section4: { 8: u16(9), ...end(48) }, length: 71 }],
    ['a percentile over an interval, template 4.10', { section4: { 8: u16(10), ...end(36) }, length: 59 }],
    ['a mean over neighbors, template 4.15', { section4: { 8: u16(15) }, length: 37 }],
    ['a chemical, template 4.40', { section4: moved(2, { 8: u16(40) }), length: 36 }],
    ['a chemical of a member, template 4.41', { section4: moved(2, { 8: u16(41) }), length: 39 }],
    [
      'a chemical over an interval, template 4.42',
      { section4: moved(2, { 8: u16(42), ...end(37) }), length: 60 },
    ],
    ['the same of a member, template 4.43', { section4: moved(2, { 8: u16(43), ...end(40) }), length: 63 }],
    ['an aerosol, template 4.44', { section4: moved(13, { 8: u16(44), 32: u16(6) }, -2), length: 45 }],
    [
      'an aerosol over an interval, template 4.46',
      { section4: moved(13, { 8: u16(46), ...end(48) }), length: 71 },
    ],
    ['an aerosol at a wavelength, template 4.48', { section4: moved(24, { 8: u16(48) }), length: 58 }],
    ['the same of a member, template 4.49', { section4: moved(24, { 8: u16(49) }), length: 61 }],
  ];

  test('parameter, level, times and template of thirty-one messages', async () => {
    const bytes = concat(CASES.map(([, parts]) => made(parts)));
    const truths = eccodesFieldsOf(bytes);
    const items = await readAll(bytes);
    const found = items.flatMap((item, n) =>
      item.kind === 'field' ? differences(item.field, truths[n]!) : [`${CASES[n]![0]}: ${item.kind}`],
    );
    expect(found).toEqual([]);
    expect([items.length, truths.length]).toEqual([CASES.length, CASES.length]);
  });
});

describe('levels', () => {
  test('a negative scaled value is sign and magnitude: a potential vorticity of -2 units', async () => {
    const section4 = { 23: u8(109), 24: s8(9), 25: s32(-2000) };
    expect((await readOne(made({ section4 }))).level).toEqual({ type: 109, value: -2e-6 });
  });

  test('no second surface is undefined, one without a value is NaN', async () => {
    expect((await readOne(made({}))).secondLevel).toBeUndefined();
    const section4 = { 29: u8(8), 30: u8(255), 31: MISSING_32 };
    expect((await readOne(made({ section4 }))).secondLevel).toEqual({ type: 8, value: Number.NaN });
  });
});

describe('times', () => {
  test('the reference time to the second, the valid time 6 hours after it', async () => {
    const field = await readOne(made({ section1: { 18: u8(59), 19: u8(58) } }));
    expect(utc(field.referenceTimeMs)).toBe('2024-01-15T12:59:58.000Z');
    expect(utc(field.validTimeMs)).toBe('2024-01-15T18:59:58.000Z');
  });

  test('a negative forecast time is sign and magnitude', async () => {
    const field = await readOne(made({ section4: { 19: s32(-3) } }));
    expect(utc(field.validTimeMs)).toBe('2024-01-15T09:00:00.000Z');
  });

  test('29 February 2024 is a day, 29 February 2023 is not', async () => {
    const field = await readOne(made({ section1: { 15: u8(2), 16: u8(29) } }));
    expect(utc(field.referenceTimeMs)).toBe('2024-02-29T12:00:00.000Z');
    const error = await rejected({ section1: { 13: u16(2023), 15: u8(2), 16: u8(29) } });
    expect(offsetOf(error)).toBe(16 + 12);
  });

  test.each([
    ['month 0', { 15: u8(0) }],
    ['month 13', { 15: u8(13) }],
    ['day 0', { 16: u8(0) }],
    ['hour 24', { 17: u8(24) }],
    ['minute 60', { 18: u8(60) }],
    ['second 60', { 19: u8(60) }],
    ['year 50, which is not 1950', { 13: u16(50), 15: u8(0) }],
  ])('%s is refused', async (_, section1) => {
    expect(offsetOf(await rejected({ section1 }))).toBe(16 + 12);
  });

  test('an interval that ends at no real instant is refused', async () => {
    const section4 = { 8: u16(8), ...end(35), 37: u8(0) };
    expect(offsetOf(await rejected({ section4, length: 58 }))).toBe(16 + 21 + 72 + 34);
  });

  test.each([2, 4])('reference time of significance %i, by code table 1.2', async (significance) => {
    const error = await rejected({ section1: { 12: u8(significance) } });
    expect(unsupported(error)).toEqual(['code table 1.2', String(significance)]);
  });

  test.each([3, 4, 5, 6, 7, 255])('unit of time %i, by code table 4.4', async (unit) => {
    const error = await rejected({ section4: { 18: u8(unit) } });
    expect(unsupported(error)).toEqual(['code table 4.4', String(unit)]);
  });
});

describe('product templates that are not read', () => {
  test.each([3, 20, 31, 45, 254, 65535])('template 4.%i, by code table 4.0', async (template) => {
    const error = await rejected({ section4: { 8: u16(template) }, length: 80 });
    expect(unsupported(error)).toEqual(['code table 4.0', String(template)]);
  });

  test('a section that is too short for its template', async () => {
    const error = await rejected({ section4: { 8: u16(8) }, length: 34 });
    expect(error).toMatchObject({ found: '34 octets in all', expected: 'at least 36' });
  });
});
