import { describe, expect, test } from 'vitest';
import { findFix, findFixes } from '../../../worker/formats/pilot-reports/fix-places.ts';
import type { ReportPlace } from '../../../worker/formats/pilot-reports/report.ts';
import { greatCircleDistanceM } from '../../../worker/science/great-circle.ts';
import { nmFromM } from '../../../worker/science/units.ts';
import { CONTEXT, FIXES, readOne } from './report-context.ts';

const placeOf = (location: string, context = CONTEXT): ReportPlace =>
  readOne(`ABC UA /OV ${location}/TM 1400`, context).place;

function pointOf(location: string) {
  const place = placeOf(location);
  if (place.kind === 'unknown') throw new Error(place.reason);
  return place.points[0]!;
}

describe('the place of a report', () => {
  test('a radial is turned by the variation of its fix: 090 with 10 degrees east is 100 true', () => {
    // 60 NM from 0 N 90 W: one degree of arc, cos 100 = -0.17365 north, sin 100 = 0.98481 east.
    const point = pointOf('ABC090060');
    expect(point.radialNorth).toBe('variation-of-fix');
    expect(point.latDeg).toBeCloseTo(-0.1735, 3);
    expect(point.lonDeg).toBeCloseTo(-89.0162, 3);
  });

  test('without a variation the radial is taken as true, and the place says so', () => {
    const point = pointOf('DEF180060');
    expect(point.radialNorth).toBe('taken-as-true');
    expect(point.latDeg).toBeCloseTo(1.0007, 3);
    expect(point.lonDeg).toBeCloseTo(-90, 9);
  });

  test('points of the compass count from true north, before or after the fix', () => {
    for (const location of ['60E ABC', '60 E OF ABC', 'ABC 60E', 'ABC 60 NM E', '60 MILES E OF ABC']) {
      const point = pointOf(location);
      expect(point.radialNorth).toBe('no-radial');
      expect(nmFromM(greatCircleDistanceM(FIXES.ABC![0]!, point))).toBeCloseTo(60, 6);
      expect(point.latDeg).toBeCloseTo(0, 9);
    }
  });

  test('legs have their points in order; OVR and O/ name the fix after them', () => {
    expect(placeOf('ABC-DEF')).toMatchObject({ kind: 'legs', points: [{ latDeg: 0 }, { latDeg: 2 }] });
    for (const location of ['OVR DEF', 'O/DEF', 'OVER DEF', 'DEF000000']) {
      expect(placeOf(location)).toMatchObject({ kind: 'point', points: [{ latDeg: 2, lonDeg: -90 }] });
    }
  });

  test.each(['4330N07015W', '4330N 07015W', '4330N-07015W', 'N4330 W07015', '4330N/07015W'])(
    '%s needs no fix',
    (location) => {
      expect(placeOf(location)).toMatchObject({ kind: 'point', points: [{ latDeg: 43.5, lonDeg: -70.25 }] });
    },
  );

  test('two pairs of coordinates are legs', () => {
    expect(placeOf('4330N07015W-4430N07015W')).toMatchObject({
      kind: 'legs',
      points: [{}, { latDeg: 44.5 }],
    });
  });

  test('words about a runway, and OVR alone, are at the station that the report begins with', () => {
    for (const location of ['FINAL RWY 3', 'ILS 27', 'RWY 19', 'OVR']) {
      expect(placeOf(location)).toMatchObject({ kind: 'point', points: [{ latDeg: 0, lonDeg: -90 }] });
    }
    expect(readOne('UA /OV RWY 19/TM 1400').place).toMatchObject({ kind: 'unknown' });
  });

  test.each([
    ['an unknown fix', 'XYZ', 'fix: found XYZ, whose place is not known'],
    ['one unknown end of a leg', 'ABC-XYZ', 'fix: found XYZ, whose place is not known'],
    ['a name of two places', 'TWO', 'fix: found TWO, which names 2 places'],
    ['a radial beyond 360', 'ABC361010', 'location: found "ABC361010"'],
    ['words', 'NORTH OF TOWN', 'location: found "NORTH OF TOWN"'],
    ['half a leg', 'ABC-', 'location: found "ABC-"'],
    ['a leg of another continent', 'ABC-KGHI', 'a leg of'],
  ])('%s gives no place, with the reason', (_, location, reason) => {
    const place = placeOf(location);
    expect(place.kind).toBe('unknown');
    expect(place.kind === 'unknown' && place.reason).toContain(reason);
  });

  test('a location that is absent is told apart from one that cannot be read', () => {
    expect(readOne('ABC UA /TM 1400/IC NEG').location).toEqual({ kind: 'not-reported' });
    expect(readOne('ABC UA /OV NORTH OF TOWN/TM 1400').location).toMatchObject({ kind: 'unreadable' });
  });
});

describe('findFix', () => {
  test('tries a four-letter name without its first letter, and a three-letter one with a K', () => {
    expect(findFix('KABC', CONTEXT)).toMatchObject({ kind: 'found', fix: { lonDeg: -90 } });
    expect(findFix('GHI', CONTEXT)).toMatchObject({ kind: 'found', fix: { latDeg: 45 } });
    expect(findFix('XABC', CONTEXT)).toMatchObject({ kind: 'unknown' });
  });

  test('takes the place nearest to an anchor, and none outside the area', () => {
    const area = { latDeg: 0, lonDeg: -90, radiusM: 1_000_000 };
    expect(findFix('TWO', { ...CONTEXT, area })).toMatchObject({ fix: { lonDeg: -89 } });
    expect(findFix('TWO', CONTEXT, { latDeg: -31, lonDeg: 151 })).toMatchObject({ fix: { lonDeg: 150 } });
    expect(findFix('KGHI', { ...CONTEXT, area })).toMatchObject({
      kind: 'unknown',
      reason: 'fix: found KGHI, which is known outside the area only, expected a known fix',
    });
  });

  test('aids of one name close together are one station', () => {
    const fixes = () => [
      { latDeg: 0, lonDeg: 0 },
      { latDeg: 0.4, lonDeg: 0 },
    ];
    expect(findFix('VOR', { fixes })).toMatchObject({ kind: 'found', fix: { latDeg: 0 } });
  });

  test('a doubtful name of a list is the one nearest to a certain name of it', () => {
    const found = findFixes(['TWO', 'DEF'], CONTEXT);
    expect(found instanceof Map && found.get('TWO')).toMatchObject({ lonDeg: -89 });
  });
});
