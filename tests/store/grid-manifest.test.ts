/** Hours that are stored read back: those of every grid, and those that were stored before there were so many. */
import { describe, expect, test } from 'vitest';
import type { GridManifest } from '../../worker/sources/ports.ts';
import { readGridColumns, readManifest } from '../../worker/store/grid-reader.ts';
import { TILE_SIZE } from '../../worker/store/grid-tiles.ts';
import { EVERY_GRID, gridOf } from '../support/grib2-grids.ts';
import { profileOf, storeFields } from '../support/grid-fields.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

/** As version 1 wrote it: 2 x 2 points from 50 N 10 E, one degree apart, one level and the ground. */
const VERSION_1 = `{
  "version": 1, "model": "7-96-2x2", "attribution": "NOAA NCEP", "runMs": 0, "validMs": 3600000,
  "definition": { "template": 0, "nx": 2, "ny": 2, "earthRadiusM": 6371229, "firstLatDeg": 50, "firstLonDeg": 10,
    "latStepDeg": -1, "lonStepDeg": 1 },
  "crop": { "i0": 0, "j0": 0, "nx": 2, "ny": 2 }, "wrapsEast": false, "condensateBasis": "total",
  "humidityBasis": "ncep-mixed", "tileSize": 16, "tileColumns": 1, "tileKeys": ["tile-0"], "rejected": [],
  "slices": [
    { "quantity": "surfaceHeightM", "levelPa": null }, { "quantity": "surfacePressurePa", "levelPa": null },
    { "quantity": "screenTemperatureK", "levelPa": null }, { "quantity": "temperatureK", "levelPa": 70000 },
    { "quantity": "relativeHumidityRatio", "levelPa": 70000 }, { "quantity": "condensateKgPerKg", "levelPa": 70000 }
  ]
}`;

/** Each slice one value everywhere, in the order of the manifest. */
function tileOf(values: readonly number[]): Uint8Array {
  const tile = new Float32Array(values.length * TILE_SIZE ** 2);
  values.forEach((value, slice) => {
    tile.fill(value, slice * TILE_SIZE ** 2, (slice + 1) * TILE_SIZE ** 2);
  });
  return new Uint8Array(tile.buffer);
}

async function stored(manifest: string) {
  const stores = createMemoryStores();
  await stores.objects.put('manifest.json', manifest);
  await stores.objects.put('tile-0', tileOf([120, 96_000, 274, 263, 0.75, 0.0002]));
  return { stores, read: await readManifest(stores.objects, 'manifest.json') };
}

describe('an hour of version 1', () => {
  test('reads as it always did', async () => {
    const { stores, read } = await stored(VERSION_1);
    const places = { latDeg: Float64Array.of(49.5), lonDeg: Float64Array.of(10.5) };
    const [column] = await readGridColumns(stores.objects, read!, places);
    if (column?.kind !== 'profile') throw new Error('expected a profile');
    const { profile, precipitation } = column;
    expect([...profile.pressurePa]).toEqual([96_000, 70_000]);
    expect([...profile.temperatureK]).toEqual([274, 263]);
    expect([...profile.relativeHumidityRatio]).toEqual([Number.NaN, 0.75]);
    expect(profile.condensateKgPerKg[1]).toBeCloseTo(0.0002, 9);
    expect([profile.condensateBasis, profile.surfaceHeightM]).toEqual(['total', 120]);
    expect(profile.cloudSaturation?.basis).toBe('ncep-mixed');
    expect(profile.cloudFractionRatio).toBeUndefined();
    expect(precipitation.rainRatio).toBeNaN();
  });

  test.each([
    ['of a version to come', '"version": 1', '"version": 3'],
    ['with a quantity to come', 'condensateKgPerKg', 'hailKgPerKg'],
    ['on a grid to come', '"template": 0', '"template": 101'],
    ['with a step lost', '"latStepDeg": -1, ', ''],
  ])('%s does not read, rather than in part', async (_, from, to) => {
    expect(VERSION_1).toContain(from);
    expect((await stored(VERSION_1.replace(from, to))).read).toBeUndefined();
  });
});

describe('an hour on each grid', () => {
  const FIELDS = [
    { parameter: '0.0.0', level: 70_000, value: 263 },
    { parameter: '0.1.1', level: 70_000, value: 75 },
  ];

  test.each(EVERY_GRID)('%s: stored, read back, and known in its middle alone', async (_, template, make) => {
    const section3 = make({ nx: 4, ny: 4 });
    const hour = await storeFields(FIELDS, { grid: section3 });
    expect(hour.manifest.version).toBe(2);
    expect(hour.readBack?.definition).toEqual(JSON.parse(JSON.stringify(gridOf(section3).definition)));
    expect(hour.readBack?.definition.template).toBe(template);
    const middle = gridOf(section3).toLatLon(1.4, 1.6);
    const { profile } = await profileOf(hour, middle.latDeg, middle.lonDeg);
    expect(profile.temperatureK[0]).toBeCloseTo(263, 4);
    const beyond = gridOf(section3).toLatLon(1.4, 3.2);
    expect(await hour.columnAt(beyond.latDeg, beyond.lonDeg)).toMatchObject({ kind: 'unknown' });
  });

  test('the slices follow each other in the order of the list of quantities, levels from the ground up', async () => {
    const hour = await storeFields([
      ...[...FIELDS].reverse(),
      { parameter: '0.0.0', level: 85_000, value: 270 },
      { parameter: '0.3.0', levelType: 1, value: 95_000 },
    ]);
    expect(hour.manifest.slices satisfies GridManifest['slices']).toEqual([
      { quantity: 'surfacePressurePa', levelPa: null },
      { quantity: 'temperatureK', levelPa: 85_000 },
      { quantity: 'temperatureK', levelPa: 70_000 },
      { quantity: 'relativeHumidityRatio', levelPa: 70_000 },
    ]);
  });
});
