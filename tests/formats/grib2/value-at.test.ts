import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { valueAt } from '../../../worker/formats/grib2/value-at.ts';
import {
  bitmap,
  data,
  identification,
  lambert,
  latLon,
  message,
  microdegrees,
  packBits,
  plainMessage,
  product,
  simple,
} from '../../support/grib2-builder.ts';
import { readOne } from '../../support/grib2-compare.ts';

/**
 *         10 E  11 E  12 E
 * 50 N     0     10    20
 * 49 N    30     40    50
 */
const regional = await readOne(plainMessage([0, 10, 20, 30, 40, 50], latLon({ nx: 3, ny: 2 })));

/** Four columns 90 degrees apart from Greenwich, two rows on 50 and 49 N. */
const globeMessage = plainMessage(
  [0, 90, 180, 30, 100, 190, 200, 130],
  latLon({ nx: 4, ny: 2 }, { 51: microdegrees(0), 60: microdegrees(270), 64: microdegrees(90) }),
);
const global = await readOne(globeMessage);

/** The regional field with its middle point of the first row missing. */
const holed = await readOne(
  message([
    ...[identification(), latLon({ nx: 3, ny: 2 }), product(), simple({ count: 5, bits: 8 })],
    ...[bitmap('#.####'), data(packBits([0, 20, 30, 40, 50], 8))],
  ]),
);

describe('valueAt', () => {
  test.each([
    [44, 0],
    [46, 90],
    [-44, 0],
    [314, 30],
    [316, 0],
    [-180, 180],
  ])('around the globe at longitude %d: %d', (lonDeg, expected) => {
    expect(valueAt(global, 50, lonDeg)).toBe(expected);
  });

  test.each([
    [50.001, 11],
    [48.999, 11],
    [49.5, 9.999],
    [49.5, 12.001],
    [-49.5, 11],
    [49.5, -170],
  ])('%d N %d E is outside the grid: NaN', (latDeg, lonDeg) => {
    expect(valueAt(regional, latDeg, lonDeg)).toBeNaN();
  });

  test('a place that is no number is NaN', () => {
    expect(valueAt(regional, Number.NaN, 11)).toBeNaN();
  });

  test('is the value of the nearest point, missing or not', () => {
    expect(valueAt(regional, 49.6, 11.4)).toBe(10);
    expect(valueAt(regional, 49.4, 11.6)).toBe(50);
    expect(valueAt(holed, 49.6, 11.4)).toBeNaN();
    expect(valueAt(holed, 49.6, 10.4)).toBe(0);
  });

  test('outside the grid it is NaN, also a hair outside', () => {
    expect(valueAt(regional, 50.001, 11)).toBeNaN();
    expect(valueAt(regional, 49.5, 12.001)).toBeNaN();
  });

  test('near a pole the nearest point is that along the great circle', async () => {
    const polar = await readOne(
      plainMessage(
        [1, 2, 3, 4, 5, 6, 7, 8],
        latLon(
          { nx: 4, ny: 2 },
          {
            ...{ 47: microdegrees(90), 51: microdegrees(0), 56: microdegrees(80), 60: microdegrees(270) },
            ...{ 64: microdegrees(90), 68: microdegrees(10) },
          },
        ),
      ),
    );
    // At 84.9 N 45 E the pole (5.1 degrees) is nearer than 80 N 0 E (about 8.3 degrees).
    expect([1, 2]).toContain(valueAt(polar, 84.9, 45));
  });

  test.each([
    ['around the globe', globeMessage, 50],
    ['Lambert', plainMessage([1, 2, 3, 4, 5, 6, 7, 8, 9], lambert({ nx: 3, ny: 3 })), 40.05],
  ])('equals what grib_ls lists for the nearest point: %s', async (_, bytes, latDeg) => {
    const folder = mkdtempSync(join(tmpdir(), 'rimeway-nearest-'));
    const path = join(folder, 'made.grib2');
    writeFileSync(path, bytes);
    const field = await readOne(bytes);
    const lonDegs = field.grid.template === 0 ? [3, 50, 134, 226, 310, 350] : [-99.98, -99.93, -99.85];
    for (const lonDeg of lonDegs) {
      const place = `${latDeg - 0.01},${lonDeg},1`;
      const output = spawnSync('grib_ls', ['-j', '-p', 'level', '-l', place, path]).stdout.toString();
      const listed = JSON.parse(output) as { neighbours: { value: number }[] }[];
      expect(valueAt(field, latDeg - 0.01, lonDeg), place).toBe(listed.at(-1)?.neighbours[0]?.value);
    }
    rmSync(folder, { recursive: true });
  });
});
