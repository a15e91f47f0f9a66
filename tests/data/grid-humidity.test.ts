/**
 * What a model's relative humidity is over, by the model's own numbers: forecasts of 2011 have temperature, specific humidity,
 * relative humidity at 2 m and the pressure at the ground, all over the globe.
 */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { relativeHumidityRatioOverWater } from '../../worker/science/humidity-basis.ts';
import { humidityBasis } from '../../worker/sources/grid-basis.ts';
import type { GridQuantity } from '../../worker/sources/ports.ts';
import type { HourInMemory, HourSlice } from '../../worker/store/grid-hour.ts';
import { humidityOverWater } from '../../worker/store/grid-humidity.ts';
import { type EccodesField, eccodesFields } from '../support/eccodes.ts';
import { readAll } from '../support/grib2-compare.ts';

const dataFolder = process.env.RIMEWAY_DATA_DIR;
if (!dataFolder) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const FILES = ['gfs-2p5-2011011012-f120.grib2', 'gfs-2p5-2011100800-f072.grib2'];

/** Category, number and height of a field of discipline 0; heights of 0 are the ground. */
function fieldOf(
  fields: readonly EccodesField[],
  [category, number, height]: readonly number[],
): Float64Array {
  const found = fields.find(
    ({ header }) =>
      header.discipline === 0 &&
      header.productDefinitionTemplateNumber === 0 &&
      header.parameterCategory === category &&
      header.parameterNumber === number &&
      header.typeOfFirstFixedSurface === (height === 0 ? 1 : 103) &&
      (height === 0 || header.scaledValueOfFirstFixedSurface === height),
  );
  if (found === undefined) throw new Error(`no field ${category}.${number} at ${height} m`);
  return found.values;
}

/** The model's specific humidity, turned to relative humidity over water as it is when an hour is stored. */
function overWater(fields: readonly EccodesField[]): Float32Array {
  const slice = (
    quantity: GridQuantity,
    values: Float64Array,
    form: HourSlice['form'] = 'as-named',
  ): HourSlice => ({
    ...{ quantity, form, levelPa: null, hybridLevel: null, values: Float32Array.from(values) },
  });
  const slices = [
    slice('screenTemperatureK', fieldOf(fields, [0, 0, 2])),
    slice('surfacePressurePa', fieldOf(fields, [3, 0, 0])),
    slice('screenRelativeHumidityRatio', fieldOf(fields, [1, 0, 2]), 'specific-humidity'),
  ];
  const hour = {
    humidityBasis: 'water',
    slices: new Map(slices.map((each) => [`${each.quantity}@null`, each])),
  } as Partial<HourInMemory> as HourInMemory;
  humidityOverWater(hour);
  return hour.slices.get('screenRelativeHumidityRatio@null')!.values;
}

/** Mean difference, in hundredths, of what the model prints from what its vapor says, between two temperatures. */
function meanMiss(
  fields: readonly EccodesField[],
  basis: 'ncep-mixed' | 'water',
  [lowC, highC]: readonly [number, number],
): { count: number; mean: number } {
  const temperatureK = fieldOf(fields, [0, 0, 2]);
  const printedPct = fieldOf(fields, [1, 1, 2]);
  const water = overWater(fields);
  let count = 0;
  let sum = 0;
  for (let n = 0; n < water.length; n += 1) {
    const celsius = temperatureK[n]! - 273.15;
    // The model prints no more than 100 %, whatever its vapor says.
    if (celsius < lowC || celsius >= highC || printedPct[n]! >= 99.9) continue;
    const printed = relativeHumidityRatioOverWater(printedPct[n]! / 100, temperatureK[n]!, basis);
    sum += (printed - water[n]!) * 100;
    count += 1;
  }
  return { count, mean: sum / count };
}

describe.each(FILES)('%s', (name) => {
  const fields = eccodesFields(join(dataFolder, 'grib2', name));

  /** Band of temperature, degC, least number of places, and by how much a reading over water alone would be wrong there, %. */
  it.each([
    [[1, 40], 4000, 0],
    [[-5, 0], 300, 0.15],
    [[-10, -5], 150, 2],
    [[-15, -10], 150, 5],
    [[-20, -15], 150, 10],
    [[-40, -20], 400, 15],
  ] as const)(
    'between %j degC its relative humidity mixes water and ice linearly from 0 to -20',
    (band, least, wrongPct) => {
      const mixed = meanMiss(fields, 'ncep-mixed', band);
      const plain = meanMiss(fields, 'water', band);
      console.log(
        `${name} ${band}: ${mixed.count} places, mixed ${mixed.mean.toFixed(2)} %, water ${plain.mean.toFixed(2)} %`,
      );
      expect(mixed.count).toBeGreaterThan(least);
      // The model's own table of saturation differs from the formulas here by as much as this; found at most 0.21.
      expect(Math.abs(mixed.mean)).toBeLessThan(0.25);
      expect(plain.mean).toBeGreaterThanOrEqual(wrongPct === 0 ? -0.5 : wrongPct);
    },
  );

  it('is the basis that the tables name for its run', async () => {
    const items = await readAll(readFileSync(join(dataFolder, 'grib2', name)), {
      chunkBytes: 65_536,
      want: () => false,
    });
    const bases = new Set(
      items.map((item) => (item.kind === 'skipped' ? humidityBasis(item.header) : item.kind)),
    );
    expect([...bases]).toEqual(['ncep-mixed']);
  });
});
