import { describe, expect, it } from 'vitest';
import type { BandFeature, RoutePoint } from '../../web/src/contract.ts';
import { nearestDistanceNm, positionAt } from '../../web/src/plan/cursor-position.ts';
import { frameOf, lonOffsetDeg, runsInFrame } from '../../web/src/plan/mercator.ts';
import { bandsAt } from '../../web/src/plan/plan-bands.ts';
import { runsOf } from '../../web/src/plan/runs-of.ts';

const band = (id: string, lowerFt: number, upperFt: number) =>
  ({ id, properties: { lowerFt, upperFt } }) as BandFeature;
const point = (distanceNm: number, lonDeg: number, latDeg: number) =>
  ({ distanceNm, lonDeg, latDeg }) as RoutePoint;
const size = { widthPx: 400, heightPx: 300, marginPx: 20 };

it('bandsAt cuts each column of bands exactly once, also on an edge', () => {
  const bands = [band('low', 0, 5000), band('middle', 5000, 9000), band('high', 9000, 30000)];
  expect(bandsAt(bands, 5000).map((one) => one.id)).toEqual(['middle']);
});

describe('runsOf', () => {
  it.each([
    ['Point', [1, 2], 1],
    [
      'LineString',
      [
        [1, 2],
        [3, 4],
      ],
      1,
    ],
    [
      'Polygon',
      [
        [
          [1, 2],
          [3, 4],
          [1, 2],
        ],
      ],
      1,
    ],
    [
      'MultiPolygon',
      [
        [
          [
            [1, 2],
            [3, 4],
            [1, 2],
          ],
        ],
        [
          [
            [5, 6],
            [7, 8],
            [5, 6],
          ],
        ],
      ],
      2,
    ],
  ])('walks a %s', (type, coordinates, count) => {
    const runs = runsOf({ type, coordinates });
    expect(runs).toHaveLength(count);
    expect(runs[0]![0]).toEqual([1, 2]);
  });
});

describe('frameOf', () => {
  it('shows every position inside the margin', () => {
    const positions = [
      [-73.2, 44.5],
      [-68.8, 44.8],
    ] as const;
    const frame = frameOf(positions, size);
    for (const [lonDeg, latDeg] of positions) {
      const [x, y] = frame.pxOf(lonDeg, latDeg);
      expect(x).toBeGreaterThanOrEqual(size.marginPx - 1e-9);
      expect(x).toBeLessThanOrEqual(size.widthPx - size.marginPx + 1e-9);
      expect(y).toBeGreaterThanOrEqual(size.marginPx - 1e-9);
      expect(y).toBeLessThanOrEqual(size.heightPx - size.marginPx + 1e-9);
    }
  });

  it('keeps a leg over the antimeridian together', () => {
    const frame = frameOf(
      [
        [179, 52],
        [-179, 52],
      ],
      size,
    );
    expect(frame.pxOf(-179, 52)[0] - frame.pxOf(179, 52)[0]).toBeCloseTo(360, 6);
  });

  it('has north up', () => {
    const frame = frameOf(
      [
        [0, 40],
        [1, 41],
      ],
      size,
    );
    expect(frame.pxOf(0, 41)[1]).toBeLessThan(frame.pxOf(0, 40)[1]);
  });
});

describe('runsInFrame', () => {
  const frame = frameOf(
    [
      [-73, 44],
      [-69, 45],
    ],
    size,
  );

  it('keeps a ring that holds the whole frame', () => {
    expect(
      runsInFrame(frame, [
        [-160, 10],
        [-50, 10],
        [-50, 70],
        [-160, 70],
        [-160, 10],
      ]),
    ).toHaveLength(1);
  });

  it('drops a ring on the far side of the world, though its longitudes jump there', () => {
    expect(
      runsInFrame(frame, [
        [100, 40],
        [140, 40],
        [120, 60],
        [100, 40],
      ]),
    ).toEqual([]);
  });
});

describe('the cursor on the earth', () => {
  const points = [point(0, 179.5, 50), point(60, -179.5, 51), point(120, -178.5, 52)];

  it('moves over the antimeridian the short way', () => {
    expect(positionAt(points, 30)).toEqual([180, 50.5]);
  });

  it('stays on the leg beyond its end', () => {
    expect(positionAt(points, 500)).toEqual([-178.5, 52]);
  });

  it('finds the point of the leg nearest to a tap', () => {
    expect(nearestDistanceNm(points, -179.4, 51.1)).toBe(60);
  });

  it('lonOffsetDeg is never more than half a turn', () => {
    expect([lonOffsetDeg(-179, 179), lonOffsetDeg(179, -179), lonOffsetDeg(0, 180)]).toEqual([2, -2, -180]);
  });
});
