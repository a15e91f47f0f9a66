import { describe, expect, test } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { exposure, exposureIn } from './fly-curtain.ts';
import { DRY, LIGHT_ICE, layer, makeCurtain, makeTestRoute, UNKNOWN } from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
const MINUTE = 60;

describe('exposureAt and unknown air', () => {
  test('a deck without data is unknown time and no ice; fluid flows in the high estimate', () => {
    const found = exposure(layer(6000, 9000, UNKNOWN));
    assertClose(found.unknownS, 9 * MINUTE, BY_HAND);
    expect(found.icingS).toEqual({ low: 0, middle: 0, high: 0 });
    expect([found.fluidM3.low, found.fluidM3.middle, found.fluidHighKnownM3]).toEqual([0, 0, 0]);
    assertClose(found.fluidM3.high * 1000, 4 + 13.5 + 4.05, BY_HAND);
  });

  test.each(Object.entries(CELL_STATE).filter(([name]) => name !== 'known' && name !== 'belowGround'))(
    'state %s counts as unknown',
    (_, state) => {
      assertClose(exposure(layer(6000, 9000, { ...LIGHT_ICE, state })).unknownS, 9 * MINUTE, BY_HAND);
    },
  );

  test('air above the axis is unknown', () => {
    const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(500), cellCount: 18 });
    const { unknownS } = exposure(DRY, { axis });
    assertClose(unknownS, 1 * MINUTE + (116 / 180) * 3600 + 2 * MINUTE, BY_HAND);
  });

  test('air below the axis is unknown', () => {
    const axis = makeAltitudeAxis({ lowestM: mFromFt(1000), cellDepthM: mFromFt(500), cellCount: 40 });
    assertClose(exposure(DRY, { axis }).unknownS, 3 * MINUTE, BY_HAND);
  });

  test.each([
    'temperatureK',
    'icingProbability',
    'cloudProbability',
    'wingGrowthMps',
    'wingCatchKgPerM2S',
    'largeDropProbability',
  ] as const)('a known cell whose %s is NaN is unknown, never ice-free', (quantity) => {
    const curtain = makeCurtain(makeTestRoute().pointCount, DRY);
    const values = quantity === 'temperatureK' ? curtain.weather.temperatureK : curtain.icing[quantity];
    values.fill(Number.NaN);
    const found = exposureIn(curtain);
    assertClose(found.unknownS, found.totalS, BY_HAND);
  });

  test.each(['icing', 'weather'] as const)(
    'an unknown state of the %s outweighs numbers that look good',
    (which) => {
      const curtain = makeCurtain(makeTestRoute().pointCount, DRY);
      curtain[which].state.fill(CELL_STATE.tooOld);
      const found = exposureIn(curtain);
      assertClose(found.unknownS, found.totalS, BY_HAND);
    },
  );

  test('below the ground the lowest air above it stands in: ice there is not lost', () => {
    const found = exposure((_, middleFt) => {
      if (middleFt < 1000) return { state: CELL_STATE.belowGround };
      return middleFt < 1500 ? LIGHT_ICE : {};
    });
    assertClose(found.icingS.middle, 1.5 * MINUTE + 3 * MINUTE, BY_HAND);
    expect(found.unknownS).toBe(0);
  });

  test('a column that is ground to its top is unknown', () => {
    const found = exposure(() => ({ state: CELL_STATE.belowGround }));
    assertClose(found.unknownS, found.totalS, BY_HAND);
  });

  test('headwind and temperature are NaN when nothing is known of the cruise', () => {
    const found = exposure(() => UNKNOWN);
    expect([found.headwindMps, found.staticTemperatureK]).toEqual([Number.NaN, Number.NaN]);
    assertClose(found.windUnknownS, found.totalS, BY_HAND);
  });
});

describe('exposureAt and large drops', () => {
  test('counts them whatever the probability of cloud ice', () => {
    const found = exposure(layer(1000, 2000, { largeDrops: LARGE_DROPS.freezingRain }));
    assertClose(found.largeDropS, 3 * MINUTE, BY_HAND);
    expect(found.worstLargeDrops).toBe('freezing-rain');
  });

  test('freezing rain is worse than ice pellets, though its code is lower', () => {
    const found = exposure((_, middleFt) => ({
      largeDrops: middleFt < 1000 ? LARGE_DROPS.icePellets : middleFt < 2000 ? LARGE_DROPS.freezingRain : 0,
    }));
    expect(found.worstLargeDrops).toBe('freezing-rain');
    assertClose(found.largeDropS, 6 * MINUTE, BY_HAND);
  });
});

describe('exposureAt and the tops', () => {
  test('a cruise 1,000 ft over the top of ice has that margin', () => {
    assertClose(exposure(layer(6000, 9000, LIGHT_ICE)).topsMarginM, mFromFt(1000), BY_HAND);
  });

  test('a cruise 1,500 ft over the top has no top within the margin', () => {
    expect(exposure(layer(6000, 8500, LIGHT_ICE)).topsMarginM).toBe(Number.POSITIVE_INFINITY);
  });

  test('a top that is only possible, not probable, is no expected top', () => {
    expect(exposure(layer(6000, 9000, { ...LIGHT_ICE, icingProbability: 0.3 })).topsMarginM).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  test('unknown air within the margin below is counted', () => {
    const found = exposure(layer(9000, 9500, UNKNOWN));
    assertClose(found.topsUnknownS, (116 / 180) * 3600, BY_HAND);
  });

  test('ground below within the margin is no unknown air', () => {
    const found = exposure(layer(0, 9500, { state: CELL_STATE.belowGround }));
    expect(found.topsUnknownS).toBe(0);
  });
});

describe('exposureAt and the certification envelope', () => {
  // Figure 3 of 14 CFR 25 Appendix C: the limit of 17.4 NM times 1.34 at 5 NM, 0.32 at 170 NM.
  test('water over one stretch may be more than over the whole leg', () => {
    const short = exposure(layer(9500, 10500, { ...LIGHT_ICE, envelopeRatio: 1 }, [15, 15]));
    const long = exposure(layer(0, 30000, { ...LIGHT_ICE, envelopeRatio: 1 }));
    assertClose(short.greatestEnvelopeRatio, 1 / 1.34, { rel: 0.02, why: 'stretches are just under 5 NM' });
    assertClose(long.greatestEnvelopeRatio, 1 / 0.302, {
      rel: 0.005,
      why: '186 NM: ln-interpolated between 0.32 and 0.20',
    });
  });

  test('water where no limit exists keeps the ratio that says so', () => {
    expect(
      exposure(layer(9500, 10500, { ...LIGHT_ICE, envelopeRatio: 10 }, [15, 15])).greatestEnvelopeRatio,
    ).toBe(10);
  });

  test('improbable ice has no part in it', () => {
    expect(exposure(layer(0, 30000, { icingProbability: 0.1, envelopeRatio: 3 })).greatestEnvelopeRatio).toBe(
      0,
    );
  });
});
