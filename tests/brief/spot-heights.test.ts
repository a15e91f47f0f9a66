/** Spot heights are read of a box around the leg alone: no other can speak for its ground. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { minimumOfLeg, readLegTerrain } from '../../worker/brief/leg-terrain.ts';
import { settled } from '../../worker/brief/settings.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import { mFromNm } from '../../worker/science/units.ts';
import type { PlaceBox, SpotHeight } from '../../worker/sources/ports.ts';
import { createPlaceRepository, indexAerodromes } from '../../worker/store/place-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';

const fix = (latDeg: number, lonDeg: number) => ({ name: 'X', latDeg, lonDeg, elevationM: Number.NaN });
const lonWithin = (lonDeg: number) => ((lonDeg + 540) % 360) - 180;
const isIn = ({ latDeg, lonDeg }: SpotHeight, { southDeg, northDeg, lonRanges }: PlaceBox) =>
  latDeg >= southDeg &&
  latDeg <= northDeg &&
  lonRanges.some(([west, east]) => lonDeg >= west && lonDeg <= east);

const leg = fc.record({
  latDeg: fc.double({ min: -83, max: 82, noNaN: true }),
  lonDeg: fc.oneof(
    fc.double({ min: -180, max: 180, noNaN: true }),
    fc.double({ min: 177, max: 180, noNaN: true }),
  ),
  northDeg: fc.double({ min: 0.3, max: 2, noNaN: true }),
  eastDeg: fc.double({ min: -4, max: 4, noNaN: true }),
  halfWidthNm: fc.double({ min: 0.1, max: 50, noNaN: true }),
});
/** About the leg, in degrees beside its first fix. */
const offsets = fc.array(
  fc.tuple(fc.double({ min: -4, max: 4, noNaN: true }), fc.double({ min: -30, max: 30, noNaN: true })),
  { minLength: 1, maxLength: 200 },
);

it('whatever the leg, those of the box make the same minima as all there are', async () => {
  let near = 0;
  await fc.assert(
    fc.asyncProperty(leg, offsets, async ({ latDeg, lonDeg, northDeg, eastDeg, halfWidthNm }, beside) => {
      const route = makeRoutePoints([
        fix(latDeg, lonDeg),
        fix(latDeg + northDeg, lonWithin(lonDeg + eastDeg)),
      ]);
      const corridor = { route, corridorHalfWidthM: mFromNm(halfWidthNm) };
      const spots = beside.map(([north, east], index) => ({
        ...{ name: `S${index}`, heightM: 100 + index },
        latDeg: Math.max(-90, Math.min(90, latDeg + north)),
        lonDeg: lonWithin(lonDeg + east),
      }));
      const places = {
        byIdent: async () => undefined,
        aerodromesIn: () => [],
        spotHeights: async (_operators: readonly string[], box: PlaceBox) =>
          spots.filter((each) => isIn(each, box)),
      };
      const read = await readLegTerrain({ places, terrain: undefined }, corridor, []);
      const options = settled(undefined);
      const minimaOf = (spotHeights: readonly SpotHeight[]) =>
        minimumOfLeg({ ...corridor, options }, { spotHeights, tiles: undefined }, { runs: [] });
      expect(minimaOf(read.spotHeights)).toEqual(minimaOf(spots));
      near += Number(minimaOf(spots).terrainM.some((heightM) => heightM > 0));
    }),
    { numRuns: 300 },
  );
  // Or the property would hold of spots that lie nowhere near.
  expect(near).toBeGreaterThan(100);
});

describe('the store', () => {
  let local: LocalD1;
  beforeAll(async () => {
    local = await startLocalD1();
  });
  afterAll(() => local.stop());

  it('gives those of the operators within the box, its edges too, also over the antimeridian', async () => {
    const places = createPlaceRepository(local.db, indexAerodromes([]));
    const spot = (name: string, latDeg: number, lonDeg: number) => ({ name, latDeg, lonDeg, heightM: 100 });
    const inside = [spot('corner', 40, 170), spot('east', 41, -179), spot('edge', 42, -170)];
    const outside = [
      spot('south', 39.9, 175),
      spot('north', 42.1, 175),
      spot('west', 41, 169.9),
      spot('far', 41, 0),
    ];
    await places.putSpotHeights('one', [...inside, ...outside]);
    await places.putSpotHeights('two', [spot('another’s', 41, 175)]);
    const box = {
      southDeg: 40,
      northDeg: 42,
      lonRanges: [
        [170, 180],
        [-180, -170],
      ] as [number, number][],
    };
    expect(await places.spotHeights(['one'], box)).toEqual(inside);
    expect(await places.spotHeights(['one', 'two'], box)).toHaveLength(4);
    expect(await places.spotHeights([], box)).toEqual([]);
  });
});
