import fc from 'fast-check';
import type { MultiPolygon, Polygon, Position } from 'geojson';
import { describe, expect, test } from 'vitest';
import {
  bboxOf,
  ringPolygon,
  routeLine,
  signedAreaDeg2,
  unwrapLongitudes,
} from '../../worker/flight/antimeridian.ts';
import { assertClose } from '../support/assert-close.ts';

const ringsOf = (geometry: Polygon | MultiPolygon): Position[][] =>
  geometry.type === 'Polygon' ? geometry.coordinates : geometry.coordinates.flat();

describe('routeLine', () => {
  test('cuts 179 to -179 at 10 N in two at the antimeridian (RFC 7946 section 3.1.9)', () => {
    expect(
      routeLine([
        [179, 10],
        [-179, 10],
      ]),
    ).toEqual({
      type: 'MultiLineString',
      coordinates: [
        [
          [179, 10],
          [180, 10],
        ],
        [
          [-180, 10],
          [-179, 10],
        ],
      ],
    });
  });

  test('cuts westward the other way round', () => {
    expect(
      routeLine([
        [-179, 10],
        [179, 12],
      ]),
    ).toEqual({
      type: 'MultiLineString',
      coordinates: [
        [
          [-179, 10],
          [-180, 11],
        ],
        [
          [180, 11],
          [179, 12],
        ],
      ],
    });
  });

  test('leaves a line that stays on one side as it is', () => {
    const line = [
      [-73, 44],
      [-70, 45],
      [-68, 44.8],
    ];
    expect(routeLine(line)).toEqual({ type: 'LineString', coordinates: line });
  });

  test('a line that ends on the antimeridian is not cut', () => {
    expect(
      routeLine([
        [179, 10],
        [180, 11],
      ]),
    ).toEqual({
      type: 'LineString',
      coordinates: [
        [179, 10],
        [180, 11],
      ],
    });
  });
});

describe('ringPolygon', () => {
  test('turns a clockwise ring counter-clockwise and closes it', () => {
    expect(
      ringPolygon([
        [0, 0],
        [0, 1],
        [1, 1],
        [1, 0],
      ]),
    ).toEqual({
      type: 'Polygon',
      coordinates: [
        [
          [1, 0],
          [1, 1],
          [0, 1],
          [0, 0],
          [1, 0],
        ],
      ],
    });
  });

  test('keeps a closed counter-clockwise ring', () => {
    const ring = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
      [0, 0],
    ];
    const [kept] = ringsOf(ringPolygon(ring));
    expect(signedAreaDeg2(kept!.slice(0, -1))).toBe(1);
    expect(kept).toHaveLength(5);
  });

  test('cuts a box across the antimeridian into one on each side', () => {
    const cut = ringPolygon([
      [179, 0],
      [-179, 0],
      [-179, 1],
      [179, 1],
      [179, 0],
    ]);
    expect(cut.type).toBe('MultiPolygon');
    const lonsDeg = ringsOf(cut).map((ring) => [
      Math.min(...ring.map((p) => p[0]!)),
      Math.max(...ring.map((p) => p[0]!)),
    ]);
    expect(lonsDeg).toEqual([
      [179, 180],
      [-180, -179],
    ]);
  });
});

describe('ringPolygon, properties', () => {
  test('pieces are closed, counter-clockwise, within [-180, 180] and keep the area, wherever the box lies', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        fc.boolean(),
        (westDeg, widthDeg, isClockwise) => {
          const wrap = (lonDeg: number) => (lonDeg >= 180 ? lonDeg - 360 : lonDeg);
          const box = [
            [westDeg, 0],
            [westDeg + widthDeg, 0],
            [westDeg + widthDeg, 2],
            [westDeg, 2],
          ];
          const ring = box.map(([lonDeg, latDeg]) => [wrap(lonDeg!), latDeg!]);
          const rings = ringsOf(ringPolygon(isClockwise ? ring.reverse() : ring));
          let areaDeg2 = 0;
          for (const piece of rings) {
            expect(piece[0]).toEqual(piece.at(-1));
            expect(piece.every((position) => Math.abs(position[0]!) <= 180)).toBe(true);
            expect(signedAreaDeg2(piece.slice(0, -1))).toBeGreaterThan(0);
            areaDeg2 += signedAreaDeg2(piece.slice(0, -1));
          }
          assertClose(areaDeg2, 2 * widthDeg, { abs: 1e-9, why: 'rounding' });
        },
      ),
      { seed: 180 },
    );
  });
});

describe('bboxOf', () => {
  test('of a line from 179 to -179 at 10 N has west greater than east', () => {
    expect(
      bboxOf([
        [179, 10],
        [-179, 10],
      ]),
    ).toEqual([179, 10, -179, 10]);
  });

  test('of a line on one side is plain', () => {
    expect(
      bboxOf([
        [-73, 44],
        [-68, 45],
      ]),
    ).toEqual([-73, 44, -68, 45]);
  });

  test('ends at 180 when the line does', () => {
    expect(
      bboxOf([
        [179, 0],
        [180, 1],
      ]),
    ).toEqual([179, 0, 180, 1]);
  });
});

describe('unwrapLongitudes', () => {
  test('never jumps by more than half the globe', () => {
    expect(
      unwrapLongitudes([
        [170, 0],
        [-170, 0],
        [-160, 0],
      ]).map((position) => position[0]),
    ).toEqual([170, 190, 200]);
  });
});
