import type { MultiPolygon, Polygon, Position } from 'geojson';
import { describe, expect, test } from 'vitest';
import { signedAreaDeg2, unwrapLongitudes } from '../../worker/flight/antimeridian.ts';
import { corridorPolygon, corridorStrip, placeAtDistance } from '../../worker/flight/corridor.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import type { RoutePoints } from '../../worker/flight/types.ts';
import { destination, distanceToStretchM, greatCircleDistanceM } from '../../worker/science/great-circle.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const HALF_WIDTH_M = mFromNm(10);

const fix = (latDeg: number, lonDeg: number) => ({
  name: `${latDeg},${lonDeg}`,
  latDeg,
  lonDeg,
  elevationM: Number.NaN,
});
const straight = makeRoutePoints([fix(44.47, -73.15), fix(44.81, -68.83)]);
const pacific = makeRoutePoints([fix(52, 178), fix(52.5, -178)]);

/** Two legs of 60 NM with a turn at the middle, positive to the right. */
function bent(turnDeg: number): RoutePoints {
  const middle = fix(45, -70);
  const start = destination(middle, Math.PI, mFromNm(60));
  const end = destination(middle, (turnDeg * Math.PI) / 180, mFromNm(60));
  return makeRoutePoints([fix(start.latDeg, start.lonDeg), middle, fix(end.latDeg, end.lonDeg)]);
}

const ringsOf = (geometry: Polygon | MultiPolygon): Position[][] =>
  geometry.type === 'Polygon' ? geometry.coordinates : geometry.coordinates.flat();

function distanceToRouteM(route: RoutePoints, [lonDeg, latDeg]: Position): number {
  const place = { latDeg: latDeg!, lonDeg: lonDeg! };
  let leastM = Number.POSITIVE_INFINITY;
  for (let point = 1; point < route.pointCount; point += 1) {
    const from = { latDeg: route.latDeg[point - 1]!, lonDeg: route.lonDeg[point - 1]! };
    const to = { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! };
    leastM = Math.min(leastM, distanceToStretchM(place, from, to));
  }
  return leastM;
}

/** Whether two edges of a closed ring that are no neighbors cross. */
function crossesItself(ring: readonly Position[]): boolean {
  const edges = ring.slice(1).map((to, index) => [ring[index]!, to] as const);
  const side = (a: Position, b: Position, c: Position) =>
    Math.sign((b[0]! - a[0]!) * (c[1]! - a[1]!) - (b[1]! - a[1]!) * (c[0]! - a[0]!));
  return edges.some(([a, b], first) =>
    edges.slice(first + 2).some(([c, d]) => {
      return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
    }),
  );
}

describe('corridorPolygon', () => {
  test.each([
    ['inland', straight],
    ['with a bend', bent(40)],
    ['across the antimeridian', pacific],
  ])('%s: every corner away from the cut is one half-width from the route', (_, route) => {
    const corners = ringsOf(corridorPolygon(route, HALF_WIDTH_M))
      .flat()
      .filter(([lonDeg]) => Math.abs(lonDeg!) < 179.99);
    for (const corner of corners) {
      assertClose(distanceToRouteM(route, corner), HALF_WIDTH_M, {
        rel: 0.01,
        why: 'flat plane and round ends of chords',
      });
    }
    expect(corners.length).toBeGreaterThan(20);
  });

  test('is counter-clockwise', () => {
    expect(signedAreaDeg2(ringsOf(corridorPolygon(straight, HALF_WIDTH_M))[0]!)).toBeGreaterThan(0);
  });

  test('is cut in two at the antimeridian', () => {
    const cut = corridorPolygon(pacific, HALF_WIDTH_M);
    expect(cut.type).toBe('MultiPolygon');
    const sides = ringsOf(cut).map((ring) => Math.sign(ring[0]![0]!));
    expect(sides.sort()).toEqual([-1, 1]);
  });

  test('stays within 1 % of the width on a route of 1,400 NM', () => {
    const long = makeRoutePoints([fix(45, -100), fix(48, -66)]);
    for (const corner of ringsOf(corridorPolygon(long, HALF_WIDTH_M)).flat()) {
      assertClose(distanceToRouteM(long, corner), HALF_WIDTH_M, {
        rel: 0.011,
        why: 'flat plane, said in its docstring',
      });
    }
  });
});

describe('corridorStrip', () => {
  const strip = (route: RoutePoints, fromNm: number, toNm: number) =>
    corridorStrip(route, { fromM: mFromNm(fromNm), toM: mFromNm(toNm), halfWidthM: HALF_WIDTH_M });

  test('of a straight stretch has the area of its length times its width', () => {
    const [ring] = ringsOf(strip(straight, 40, 80));
    const areaM2 = Math.abs(signedAreaDeg2(ring!)) * 111_195 ** 2 * Math.cos((44.65 * Math.PI) / 180);
    assertClose(areaM2, mFromNm(40) * mFromNm(20), { rel: 0.01, why: 'flat area of a piece of sphere' });
  });

  test('square ends stand one half-width to each side of the place they end at', () => {
    const { place } = placeAtDistance(straight, mFromNm(40));
    const nearest = ringsOf(strip(straight, 40, 80))
      .flat()
      .map(([lonDeg, latDeg]) => greatCircleDistanceM(place, { latDeg: latDeg!, lonDeg: lonDeg! }))
      .sort((a, b) => a - b)
      .slice(0, 2);
    for (const awayM of nearest) assertClose(awayM, HALF_WIDTH_M, { abs: 1, why: 'rounding' });
  });

  test('neighbors share both corners of their common edge', () => {
    const route = bent(50);
    for (const atNm of [30, 55, 60, 63, 90]) {
      const before = new Set(
        ringsOf(strip(route, 0, atNm))
          .flat()
          .map(String),
      );
      const shared = new Set(
        ringsOf(strip(route, atNm, 120))
          .flat()
          .map(String)
          .filter((corner) => before.has(corner)),
      );
      expect([atNm, shared.size]).toEqual([atNm, 2]);
    }
  });

  test.each([-90, -60, -20, 0, 20, 60, 90])(
    'does not cross itself around a bend of %i degrees',
    (turnDeg) => {
      for (const [fromNm, toNm] of [
        [0, 120],
        [50, 70],
        [57, 61],
        [60, 65],
      ]) {
        const [ring] = ringsOf(strip(bent(turnDeg), fromNm!, toNm!));
        expect([fromNm, crossesItself(ring!)]).toEqual([fromNm, false]);
      }
    },
  );

  test('strips around a bend add up to the area of the whole', () => {
    const route = bent(60);
    const areaOf = (fromNm: number, toNm: number) =>
      Math.abs(signedAreaDeg2(ringsOf(strip(route, fromNm, toNm))[0]!.slice(0, -1)));
    const edges = [0, 20, 45, 52, 58, 60, 61, 68, 90, 120];
    const sum = edges.slice(1).reduce((total, edge, index) => total + areaOf(edges[index]!, edge), 0);
    assertClose(sum, areaOf(0, 120), { rel: 0.002, why: 'edges between are chords' });
  });

  test('is cut at the antimeridian', () => {
    const cut = strip(pacific, 0, 140);
    expect(cut.type).toBe('MultiPolygon');
    expect(
      ringsOf(cut)
        .flat()
        .every(([lonDeg]) => Math.abs(lonDeg!) <= 180),
    ).toBe(true);
  });
});

describe('placeAtDistance', () => {
  test('lies on the route at the distance asked, and at its ends beyond them', () => {
    const { place } = placeAtDistance(straight, mFromNm(33));
    const start = { latDeg: straight.latDeg[0]!, lonDeg: straight.lonDeg[0]! };
    assertClose(greatCircleDistanceM(start, place), mFromNm(33), { abs: 0.1, why: 'rounding' });
    expect(placeAtDistance(straight, 1e9).place.lonDeg).toBe(straight.lonDeg.at(-1));
    expect(placeAtDistance(straight, -5).place.lonDeg).toBe(straight.lonDeg[0]);
    expect(unwrapLongitudes([[place.lonDeg, place.latDeg]])).toHaveLength(1);
  });
});
