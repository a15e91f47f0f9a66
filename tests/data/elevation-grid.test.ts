/** A real elevation grid of one degree: its values beside ecCodes, as a source of terrain, and how much of summits it lacks. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { OROGRAPHY_ALLOWANCE_M } from '../../worker/flight/known-ground.ts';
import { valueAt } from '../../worker/formats/grib2/value-at.ts';
import { readPlacesCsv } from '../../worker/formats/places-csv.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { makeTestRoute } from '../flight/make-curtain.ts';
import { assertClose } from '../support/assert-close.ts';
import { eccodesFields } from '../support/eccodes.ts';
import { createGridTerrain, highestAround, readElevationField } from '../support/elevation-grid.ts';
import { terrainSourceSuite } from '../support/terrain-source-suite.ts';

const dataFolder = process.env.RIMEWAY_DATA_DIR;
if (!dataFolder) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const PATH = `${dataFolder}/places/elevation-1deg.grib2`;
const field = await readElevationField(new Uint8Array(readFileSync(PATH)));

/** Half of a packing step, and of single precision beside it. */
const AS_PACKED = { abs: 0.06, why: 'half a step of 0.1 m, printed to 0.1 m' };

/** Latitude, longitude and height, m, as grib_get_data of ecCodes 2.28 lists them. */
const LISTED = [
  [44.5, -71.5, 322.8],
  [46.5, 8.5, 1586.5],
  [28.5, 86.5, 4531.3],
  [39.5, -105.5, 2698.5],
  [0.5, -30.5, 0],
  [-77.5, 166.5, 305],
  [31.5, 35.5, -405],
] as const;

describe('the elevation grid of one degree', () => {
  test('has at places what grib_get_data lists there', () => {
    for (const [latDeg, lonDeg, heightM] of LISTED) {
      assertClose(valueAt(field, latDeg, lonDeg), heightM, AS_PACKED);
    }
  });

  test('has at every hundredth point what ecCodes has', () => {
    const [truth] = eccodesFields(PATH, { places: true });
    let compared = 0;
    for (let point = 0; point < truth!.values.length; point += 100) {
      assertClose(valueAt(field, truth!.latDeg[point]!, truth!.lonDeg[point]!), truth!.values[point]!, {
        abs: 0.001,
        why: 'single precision of 6,112 m',
      });
      compared += 1;
    }
    expect(compared).toBe(648);
  });
});

describe('as a source of terrain', () => {
  /** Along the front of the Rocky Mountains. */
  const known = { ...makeTestRoute(120), lonDeg: makeTestRoute(120).lonDeg.map(() => -105.1) };
  /** The grid ends half a degree before the pole. */
  const unknown = { ...makeTestRoute(20), latDeg: makeTestRoute(20).latDeg.map((latDeg) => latDeg + 49.8) };
  terrainSourceSuite(() => createGridTerrain(field), { known, unknown });

  test('is the same on both sides of the antimeridian and of the grid’s own seam', () => {
    for (const latDeg of [-16.2, 65.4]) {
      expect(highestAround(field, latDeg, -180)).toBe(highestAround(field, latDeg, 179.999999));
      expect(highestAround(field, latDeg, 0.2)).not.toBeNaN();
    }
  });
});

test('smoothed ground cuts off summits by more than is allowed for a model’s: it is not enough alone', () => {
  const text = readFileSync(new URL('../../sample-soundings/spot-heights.csv', import.meta.url), 'utf8');
  const csv = readPlacesCsv(text);
  if (csv.kind !== 'spot-heights') throw new Error(`found ${csv.kind}, expected spot heights`);
  const aboveM = csv.rows.map(
    ({ latDeg, lonDeg, heightFt }) => mFromFt(heightFt) - valueAt(field, latDeg, lonDeg),
  );
  expect(aboveM).toHaveLength(36);
  expect(Math.min(...aboveM)).toBeGreaterThan(200);
  expect(Math.round(Math.max(...aboveM))).toBe(1594);
  expect(aboveM.filter((each) => each > OROGRAPHY_ALLOWANCE_M).length).toBeGreaterThan(10);
});
