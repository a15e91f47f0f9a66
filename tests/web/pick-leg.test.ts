import { describe, expect, it } from 'vitest';
import type { Place } from '../../web/src/api.ts';
import { boxAround, pick, pickWords, placeNear, routeText } from '../../web/src/plan/pick-leg.ts';

const place = (ident: string, lonDeg = 0, latDeg = 0): Place => ({
  ident,
  name: `Name of ${ident}`,
  kind: 'aerodrome',
  lonDeg,
  latDeg,
  elevationFt: 0,
});
const [a, b, c] = [place('KBTV'), place('KBGR', 1), place('KPWM', 2)];

describe('a leg picked on the map', () => {
  it('takes the departure, then the destination, and begins anew with a third', () => {
    const first = pick({}, a);
    const second = pick(first, b);
    expect([routeText({}), routeText(first), routeText(second), routeText(pick(second, c))]).toEqual([
      undefined,
      undefined,
      'KBTV DCT KBGR',
      undefined,
    ]);
    expect(pick(second, c)).toEqual({ from: c });
  });

  it('never runs from a place to itself', () => {
    expect(pick({ from: a }, a)).toEqual({ from: a });
  });

  it('says what is asked for next', () => {
    expect(pickWords({})).toMatch(/^Departure/);
    expect(pickWords({ from: a })).toMatch(/^From KBTV.*Destination/);
    expect(pickWords({ from: a, to: b })).toMatch(/^KBTV to KBGR/);
  });
});

describe('placeNear', () => {
  const project = ([lonDeg]: readonly [number, number]) => [lonDeg * 40, 0] as const;

  it('is the nearest within a finger’s reach', () => {
    expect(placeNear([a, b, c], project, [27, 0])?.ident).toBe('KBGR');
  });

  it('is nothing where none is near', () => {
    expect(placeNear([a, b, c], project, [20, 60])).toBeUndefined();
  });
});

it('boxAround goes the short way over the antimeridian', () => {
  const [west, , east] = boxAround([place('A', 179, 50), place('B', -179, 51)])!;
  expect(east - west).toBeCloseTo(3, 6);
  expect(boxAround([])).toBeUndefined();
});
