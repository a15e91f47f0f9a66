import { describe, expect, test } from 'vitest';
import { walkSections } from '../../../worker/formats/grib2/sections.ts';
import {
  concat,
  data,
  identification,
  latLon,
  message,
  noBitmap,
  product,
  section,
  simple,
} from '../../support/grib2-builder.ts';
import { grib2ErrorOf, offsetOf } from '../../support/grib2-errors.ts';

const GRID = latLon({ nx: 2, ny: 1 });
const FIELD = [product(), simple({ count: 2, bits: 0 }), noBitmap(), data(new Uint8Array(0))];
const LOCAL = section(2, 5, {});

const refused = (sections: readonly Uint8Array[]) =>
  grib2ErrorOf(() => walkSections(message(sections), 1000));

describe('walkSections', () => {
  test('one field: discipline, offset and the section lengths', () => {
    const {
      discipline,
      offsetBytes,
      identification: section1,
      fields,
    } = walkSections(message([identification(), GRID, ...FIELD], 10), 1000);
    expect([discipline, offsetBytes, section1.lengthBytes, fields.length]).toEqual([10, 1000, 21, 1]);
    const { grid, product: section4, representation, bitmap, data: section7 } = fields[0]!;
    const lengths = [grid, section4, representation, bitmap, section7].map((each) => each.lengthBytes);
    expect(lengths).toEqual([72, 34, 21, 6, 5]);
    expect(section7.origin.offsetBytes).toBe(1000 + 16 + 21 + 72 + 34 + 21 + 6);
  });

  test.each([
    ['2 to 7', [LOCAL, GRID, ...FIELD]],
    ['3 to 7', [GRID, ...FIELD]],
    ['4 to 7', FIELD],
  ])('sections %s may repeat', (_, repeated) => {
    const { fields } = walkSections(message([identification(), LOCAL, GRID, ...FIELD, ...repeated]), 0);
    expect(fields).toHaveLength(2);
    expect(fields[1]!.product).not.toBe(fields[0]!.product);
  });

  test('a repeated field keeps the grid before it', () => {
    const { fields } = walkSections(message([identification(), GRID, ...FIELD, ...FIELD]), 0);
    expect(fields[1]!.grid).toBe(fields[0]!.grid);
  });
});

describe('walkSections refuses', () => {
  test.each([
    ['no section 1', [GRID, ...FIELD], 'found section 3, expected section 1'],
    ['no grid', [identification(), ...FIELD], 'found section 4, expected section 2 or 3'],
    ['no product', [identification(), GRID, ...FIELD.slice(1)], 'found section 5, expected section 4'],
    ['no bitmap section', [identification(), GRID, ...FIELD.slice(0, 2), FIELD[3]!], 'expected section 6'],
    ['no data', [identification(), GRID, ...FIELD.slice(0, 3)], 'found the end section, expected section 7'],
    ['no field', [identification(), GRID], 'found the end section, expected section 4'],
    ['nothing at all', [], 'found the end section, expected section 1'],
    ['a section 9', [identification(), section(9, 9, {})], 'found section 9'],
    ['a section 0', [identification(), section(0, 9, {})], 'found section 0'],
    ['a second section 1', [identification(), identification()], 'found section 1'],
  ] as const)('%s', (_, sections, words) => {
    expect(refused(sections as readonly Uint8Array[]).message).toContain(words);
  });

  test.each([
    ['1', [section(1, 20, {})]],
    ['3', [identification(), section(3, 13, {})]],
    ['4', [identification(), GRID, section(4, 8, {})]],
    ['5', [identification(), GRID, product(), section(5, 10, {})]],
  ])('a section %s that is shorter than any', (number, sections) => {
    expect(refused(sections).message).toContain(`section ${number} length`);
  });

  test('a section that reaches beyond the message', () => {
    const long = data(new Uint8Array(4));
    long[3] = 10;
    const error = refused([identification(), GRID, ...FIELD.slice(0, 3), long]);
    expect(error).toMatchObject({ found: '10 octets', expected: '5 to 9' });
    expect(offsetOf(error)).toBe(1000 + 16 + 21 + 72 + 34 + 21 + 6);
  });

  test('octets between the last section and the end section', () => {
    const error = refused([identification(), GRID, ...FIELD, Uint8Array.of(0, 0, 0)]);
    expect(error).toMatchObject({ found: '3 octets before the end section', expected: '"7777"' });
  });

  test('another end than 7777', () => {
    const bytes = message([identification(), GRID, ...FIELD]);
    bytes[bytes.length - 1] = 0x38;
    const error = grib2ErrorOf(() => walkSections(bytes, 0));
    expect(error).toMatchObject({ found: '"7778"', expected: '"7777"' });
    expect(offsetOf(error)).toBe(bytes.length - 4);
  });

  test('an end section that is cut off', () => {
    const bytes = concat([message([identification(), GRID, ...FIELD])]);
    for (let left = 17; left < bytes.length; left += 1) {
      expect(grib2ErrorOf(() => walkSections(bytes.subarray(0, left), 0)).kind).toBe('format');
    }
  });
});
