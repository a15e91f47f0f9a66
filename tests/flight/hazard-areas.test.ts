import { describe, expect, it } from 'vitest';
import { boxOfArea, distanceToAreaM, type HazardArea, isInBox } from '../../worker/flight/hazard-areas.ts';
import { mFromNm, nmFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const at = (latDeg: number, lonDeg: number) => ({ latDeg, lonDeg });
const ring = (...corners: [number, number][]) => ({
  kind: 'polygon' as const,
  ring: [...corners, corners[0]!].map(([latDeg, lonDeg]) => at(latDeg, lonDeg)),
});
const distanceNm = (area: HazardArea, latDeg: number, lonDeg: number) =>
  nmFromM(distanceToAreaM(area, at(latDeg, lonDeg)));

/** A mean radius makes a minute of latitude 1.0007 NM. */
const AS_MINUTES = { rel: 0.001, why: 'a minute of latitude on the mean sphere is 1.0007 NM' };

describe('distanceToAreaM', () => {
  const square = ring([40, -75], [40, -70], [45, -70], [45, -75]);

  it('is nothing inside a polygon, and the way to the nearest edge outside', () => {
    expect(distanceNm(square, 42, -72)).toBe(0);
    assertClose(distanceNm(square, 39, -75), 60, AS_MINUTES);
  });

  it('takes edges as great circles: one along a parallel bends to the pole', () => {
    // At 45N over 60 degrees of longitude the circle is at atan(tan 45 / cos 30) = 49.1N in the middle.
    const wide = ring([30, -90], [30, -30], [45, -30], [45, -90]);
    expect(distanceNm(wide, 48.5, -60)).toBe(0);
    expect(distanceNm(wide, 49.5, -60)).toBeGreaterThan(15);
  });

  it.each([
    [52, 180, true],
    [52, -179.9, true],
    [52, 179.9, true],
    [52, 170, false],
    [52, -170, false],
    [52, 0, false],
    [-52, 0, false],
  ])('of a polygon across the antimeridian: %d, %d is inside: %s', (latDeg, lonDeg, isInside) => {
    const across = ring([50, 178], [50, -178], [54, -178], [54, 178]);
    expect(distanceNm(across, latDeg, lonDeg) === 0).toBe(isInside);
  });

  it('is the same whichever way a ring is turned', () => {
    const turned: HazardArea = { kind: 'polygon', ring: square.ring.toReversed() };
    expect([distanceNm(turned, 42, -72), distanceNm(turned, 50, -72) > 0]).toEqual([0, true]);
  });

  it('of a dented ring counts the dent as outside', () => {
    const dented = ring([40, -75], [40, -70], [45, -70], [41, -72.5], [45, -75]);
    expect(distanceNm(dented, 44, -72.5)).toBeGreaterThan(0);
    expect(distanceNm(dented, 40.5, -72.5)).toBe(0);
  });

  it('counts from the rim of a circle, and from beside a line that is wide', () => {
    const circle: HazardArea = { kind: 'circle', center: at(40, -70), radiusM: mFromNm(30) };
    const line: HazardArea = { kind: 'line', points: [at(40, -70), at(45, -70)], halfWidthM: mFromNm(30) };
    assertClose(distanceNm(circle, 41, -70), 30, { ...AS_MINUTES, rel: 0.002 });
    expect([distanceNm(circle, 40.4, -70), distanceNm(line, 42, -70.5)]).toEqual([0, 0]);
    assertClose(distanceNm(line, 46, -70), 30, { ...AS_MINUTES, rel: 0.002 });
  });

  it('of open sides is nothing where all hold, and without end elsewhere', () => {
    const sides: HazardArea = {
      kind: 'sides',
      sides: [
        { kind: 'parallel', side: 'N', latDeg: 54 },
        { kind: 'meridian', side: 'E', lonDeg: 178 },
      ],
      box: undefined,
    };
    expect([distanceNm(sides, 55, -179), distanceNm(sides, 55, 177), distanceNm(sides, 53, 179)]).toEqual([
      0,
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
    ]);
  });

  it.each([
    ['NE', 45, [46, -70], true],
    ['NE', 45, [40, -76], false],
    ['N', 0, [47, -73], true],
    ['S', 180, [47, -73], false],
    // Beyond the end the last edge goes on.
    ['N', 0, [50, -60], true],
    ['S', 180, [50, -60], false],
  ] as const)('%s of a line (%d degrees) holds %s: %s', (_, bearingDeg, [latDeg, lonDeg], isInside) => {
    const area: HazardArea = {
      kind: 'sides',
      sides: [{ kind: 'line', bearingDeg, points: [at(44, -76), at(45, -73), at(44, -70)] }],
      box: undefined,
    };
    expect(distanceNm(area, latDeg, lonDeg) === 0).toBe(isInside);
  });

  it('of an area that nobody knows is nothing anywhere in its box, and anywhere at all without one', () => {
    const box = { southDeg: 10, northDeg: 60, westDeg: 170, eastDeg: -30 };
    expect(distanceNm({ kind: 'unknown', box: undefined }, -80, 12)).toBe(0);
    expect(distanceNm({ kind: 'unknown', box }, 45, -73)).toBe(0);
    expect(distanceNm({ kind: 'unknown', box }, 45, 9)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('boxOfArea', () => {
  it('holds every place of the area and of the margin, across the antimeridian too', () => {
    const across = ring([50, 178], [50, -178], [54, -178], [54, 178]);
    const box = boxOfArea(across, mFromNm(60))!;
    expect(box.westDeg).toBeGreaterThan(box.eastDeg);
    for (const place of [at(49.1, 180), at(54.9, -178), at(52, 176.5), at(52, -176.5)])
      expect(isInBox(box, place)).toBe(true);
    expect(isInBox(box, at(52, 0))).toBe(false);
  });
});
