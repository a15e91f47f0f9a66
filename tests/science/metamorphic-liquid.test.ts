/** Lift, cold and the water inside cloud: what each is at its bounds, and which way it goes between them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { coldProbability, unfrozenShare, upwardMpsFromPaPerS } from '../../worker/science/glaciation.ts';
import { inCloudOfBoxKgPerM3 } from '../../worker/science/liquid-water.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { assertClose } from '../support/assert-close.ts';
import { even } from '../support/even-numbers.ts';
import { alongPoints, makeProfile, makeSettings } from '../support/make-profile.ts';

const RUNS = { seed: 17, numRuns: 2000 };
const ROUNDING = 1e-12;

describe('vertical motion in a cell of moist cold air', () => {
  const axis = makeAltitudeAxis({ lowestM: 900, cellDepthM: 150, cellCount: 20 });
  const cell = 6;
  /** -5 to -20 degC, 93 % up to 760 hPa: cloud that is as liquid as not. */
  const profile = makeProfile({
    temperatureC: alongPoints([
      [1000, -5],
      [300, -70],
    ]),
    relativeHumidityPct: alongPoints([
      [760, 93],
      [750, 30],
    ]),
  });

  /** Chance of ice and water given ice in the cell; its air rising so fast, m/s, and that of the other cells. */
  const rising = (mps: number, othersMps = Number.NaN) => {
    const weather = weatherColumnsFromProfiles([profile], axis);
    const density = axis.middlePressurePa[cell]! / (287.05287 * weather.temperatureK[cell]!);
    weather.verticalVelocityPaPerS.fill(-othersMps * density * 9.80665);
    weather.verticalVelocityPaPerS[cell] = -mps * density * 9.80665;
    const icing = diagnoseColumns(weather, makeSettings(axis.cellCount));
    return [icing.icingProbability[cell]!, icing.liquidWaterKgPerM3[cell]!] as const;
  };

  it('makes ice no less probable and water no less as air rises faster, and matters', () => {
    fc.assert(
      fc.property(even(-0.3, 0.3), even(-0.3, 0.3), (one, other) => {
        const [slow, fast] = [rising(Math.min(one, other)), rising(Math.max(one, other))];
        expect(fast[0]).toBeGreaterThanOrEqual(slow[0]);
        expect(fast[1]).toBeGreaterThanOrEqual(slow[1]);
      }),
      { seed: 17, numRuns: 200 },
    );
    expect(rising(0.05)[0]).toBeGreaterThan(1.1 * rising(0)[0]);
    expect(rising(0)[0]).toBeGreaterThan(1.1 * rising(-0.05)[0]);
  });

  it('counts up to 0.1 m/s either way and no further', () => {
    expect(rising(0.1001)).toEqual(rising(3));
    expect(rising(-0.1001)).toEqual(rising(-3));
    expect(rising(0.1)[0]).toBeGreaterThan(1.005 * rising(0.098)[0]);
    expect(rising(-0.1)[0]).toBeLessThan(rising(-0.098)[0] / 1.005);
  });

  it('counts as none in a source without it, as the most where it is lost in this cell alone', () => {
    expect(rising(Number.NaN)).toEqual(rising(0));
    expect(rising(Number.NaN, -1)).toEqual(rising(3));
    expect(rising(0.02, -1)).toEqual(rising(0.02));
  });

  it('is upward speed in m/s: 1 Pa/s of falling pressure is 9.2 cm/s at 850 hPa and -5 degC', () => {
    assertClose(upwardMpsFromPaPerS(-1, 1.104), 0.0924, { abs: 5e-5, why: 'printed to 0.1 mm/s' });
  });
});

describe('coldProbability', () => {
  const celsius = even(-20, 20);

  it('of an exact temperature is 1 below 0 degC, 0 at and above it', () => {
    expect([-1e-9, 0, 1e-9].map((t) => coldProbability(FREEZING_K + t, 0))).toEqual([1, 0, 0]);
  });

  it('never rises with temperature, is a half at 0 degC, and cold and warm mirror each other', () => {
    fc.assert(
      fc.property(celsius, celsius, even(0.1, 4), (one, other, errorK) => {
        const at = (t: number) => coldProbability(FREEZING_K + t, errorK);
        expect(at(Math.min(one, other))).toBeGreaterThanOrEqual(at(Math.max(one, other)));
        assertClose(at(one) + at(-one), 1, { abs: 1e-10, why: 'rounding' });
        expect(at(0)).toBe(0.5);
      }),
      RUNS,
    );
  });

  it('comes nearer to a half as the error grows, and to certainty as it shrinks', () => {
    fc.assert(
      fc.property(celsius, even(0.1, 4), even(0, 4), (t, errorK, moreK) => {
        const [sure, unsure] = [errorK, errorK + moreK].map((error) =>
          Math.abs(coldProbability(FREEZING_K + t, error) - 0.5),
        );
        expect(unsure!).toBeLessThanOrEqual(sure! + ROUNDING);
      }),
      RUNS,
    );
    expect(coldProbability(FREEZING_K - 0.5, 0.01)).toBeGreaterThan(1 - ROUNDING);
    expect(coldProbability(FREEZING_K + 0.5, 0.01)).toBeLessThan(ROUNDING);
  });

  it('is the normal distribution to 0.01: 84 % a standard deviation below, 97.7 % two below', () => {
    const normal = [
      [1, 0.8413],
      [2, 0.9772],
      [-1, 0.1587],
    ] as const;
    for (const [deviations, share] of normal) {
      const found = coldProbability(FREEZING_K - 1.5 * deviations, 1.5);
      assertClose(found, share, { abs: 0.01, why: 'the logistic curve of slope 1.702, as documented' });
    }
  });
});

describe('unfrozenShare', () => {
  it('is 0 to -40 degC, 1 from -35 degC, straight between, and never falls as it gets warmer', () => {
    expect([-41, -40, -37.5, -35, -34].map((t) => unfrozenShare(FREEZING_K + t))).toEqual([0, 0, 0.5, 1, 1]);
    fc.assert(
      fc.property(even(200, 290), even(200, 290), (one, other) => {
        expect(unfrozenShare(Math.max(one, other))).toBeGreaterThanOrEqual(
          unfrozenShare(Math.min(one, other)),
        );
      }),
      RUNS,
    );
  });
});

describe('inCloudOfBoxKgPerM3', () => {
  const box = even(0, 1e-3);
  const fraction = even(0, 1);
  const adiabatic = fc.oneof(even(0, 3e-3), fc.constant(Number.POSITIVE_INFINITY));

  it('is the mean of the box over its cloud fraction: 0.1 g/m3 in two fifths is 0.25 g/m3', () => {
    assertClose(inCloudOfBoxKgPerM3(1e-4, 0.4, Number.POSITIVE_INFINITY), 2.5e-4, {
      rel: ROUNDING,
      why: 'rounding',
    });
  });

  it('takes a fraction under a tenth for a tenth, one above 1 for 1, and none for the mean of the box', () => {
    const at = (fractionRatio: number) => inCloudOfBoxKgPerM3(1e-4, fractionRatio, Number.POSITIVE_INFINITY);
    expect([at(0), at(0.05), at(-1)]).toEqual([at(0.1), at(0.1), at(0.1)]);
    expect([at(1), at(1.2), at(Number.NaN)]).toEqual([1e-4, 1e-4, 1e-4]);
    assertClose(at(0.1), 1e-3, { rel: ROUNDING, why: 'rounding' });
  });

  it('never is under the mean of the box, nor over ten times it, nor over the adiabatic unless the box is', () => {
    fc.assert(
      fc.property(box, fraction, adiabatic, (mean, part, most) => {
        const inCloud = inCloudOfBoxKgPerM3(mean, part, most);
        expect(inCloud).toBeGreaterThanOrEqual(mean);
        expect(inCloud).toBeLessThanOrEqual(10 * mean * (1 + ROUNDING));
        expect(inCloud).toBeLessThanOrEqual(Math.max(mean, most));
      }),
      RUNS,
    );
  });

  it('never falls with the water of the box nor with the adiabatic, and never rises with the fraction', () => {
    fc.assert(
      fc.property(
        fc.tuple(box, fraction, adiabatic),
        fc.tuple(box, fraction, adiabatic),
        ([boxA, partA, mostA], [boxB, partB, mostB]) => {
          const one = inCloudOfBoxKgPerM3(boxA, partA, mostA);
          expect(inCloudOfBoxKgPerM3(Math.max(boxA, boxB), partA, mostA)).toBeGreaterThanOrEqual(one);
          expect(inCloudOfBoxKgPerM3(boxA, partA, Math.max(mostA, mostB))).toBeGreaterThanOrEqual(one);
          expect(inCloudOfBoxKgPerM3(boxA, Math.max(partA, partB), mostA)).toBeLessThanOrEqual(one);
        },
      ),
      RUNS,
    );
  });
});
