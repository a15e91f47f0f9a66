/** Oxygen for an unpressurized cabin, against 14 CFR 91.211(a) and 135.89(a) as published (looked up). */
import { describe, expect, test } from 'vitest';
import { oxygenNeed } from '../../worker/flight/oxygen.ts';
import { mFromFt } from '../../worker/science/units.ts';

describe('oxygenNeed', () => {
  test.each([
    [10000, 600, 'none'],
    [11000, 30, 'none'],
    [11000, 31, 'crew-after-30-minutes'],
    [12000, 31, 'crew-after-30-minutes'],
    [12001, 1, 'crew'],
  ] as const)('14 CFR 135.89(a): %i ft for %i min needs %s', (altitudeFt, minutes, need) => {
    expect(oxygenNeed('14 CFR 135.89(a)', mFromFt(altitudeFt), minutes * 60)).toBe(need);
  });

  test.each([
    [12500, 600, 'none'],
    [13000, 30, 'none'],
    [13000, 31, 'crew-after-30-minutes'],
    [14000, 31, 'crew-after-30-minutes'],
    [14001, 1, 'crew'],
    [15001, 1, 'crew-and-occupants'],
  ] as const)('14 CFR 91.211(a): %i ft for %i min needs %s', (altitudeFt, minutes, need) => {
    expect(oxygenNeed('14 CFR 91.211(a)', mFromFt(altitudeFt), minutes * 60)).toBe(need);
  });
});
