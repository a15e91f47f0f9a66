/** Hours that are stored read back, on every grid; what is of another layout does not read at all. */
import { beforeAll, describe, expect, test } from 'vitest';
import { readManifest } from '../../worker/store/grid-reader.ts';
import { EVERY_GRID, gridOf } from '../support/grib2-grids.ts';
import { profileOf, storeFields } from '../support/grid-fields.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const FIELDS = [
  { parameter: '0.0.0', level: 70_000, value: 263 },
  { parameter: '0.1.1', level: 70_000, value: 75 },
];

let written: string;
beforeAll(async () => {
  written = JSON.stringify((await storeFields(FIELDS)).manifest);
});

async function read(manifest: string) {
  const { objects } = createMemoryStores();
  await objects.put('manifest.json', manifest);
  return readManifest(objects, 'manifest.json');
}

describe('a manifest', () => {
  test('reads as it was written', async () => {
    expect(JSON.stringify(await read(written))).toBe(written);
  });

  test.each([
    ['of version 1', '"version":3', '"version":1'],
    ['of version 2', '"version":3', '"version":2'],
    ['of a version to come', '"version":3', '"version":4'],
    ['with a quantity to come', 'temperatureK', 'soilTemperatureK'],
    ['on a grid to come', '"template":0', '"template":101'],
    ['with a step of the grid lost', '"latStepDeg":-1,', ''],
    ['with chunks of another side', '"chunkSide":12', '"chunkSide":16'],
    ['with shards of another side', '"shardSide":96', '"shardSide":64'],
    ['with a scale lost', '"scaleFactor":0.01,', ''],
    ['with a scale of zero', '"scaleFactor":0.01,', '"scaleFactor":0,'],
    ['without its chunks', '"shards"', '"tiles"'],
  ])('%s does not read, rather than in part', async (_, from, to) => {
    expect(written).toContain(from);
    expect(await read(written.replace(from, to))).toBeUndefined();
  });
});

describe('an hour on each grid', () => {
  test.each(EVERY_GRID)('%s: stored, read back, and known in its middle alone', async (_, template, make) => {
    const section3 = make({ nx: 4, ny: 4 });
    const hour = await storeFields(FIELDS, { grid: section3 });
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
    expect(hour.manifest.slices).toMatchObject([
      { quantity: 'surfacePressurePa', levelPa: null, scaleFactor: 1, addOffset: 95_000, greatestError: 0 },
      { quantity: 'temperatureK', levelPa: 85_000, scaleFactor: 0.01, addOffset: 270 },
      { quantity: 'temperatureK', levelPa: 70_000 },
      { quantity: 'relativeHumidityRatio', levelPa: 70_000, scaleFactor: 0.001, addOffset: 0.75 },
    ]);
  });
});
