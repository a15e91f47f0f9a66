import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Spread } from '../../worker/flight/types.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { kFromC, mFromFt, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { exposure, exposureIn } from './fly-curtain.ts';
import {
  DRY,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeCurtain,
  makeTestRoute,
  randomCells,
  TEST_DRAWS,
} from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
const BY_HAND_F32 = { abs: 1e-6, rel: 1e-6, why: 'by hand, columns are 32-bit' };
const MINUTE = 60;

const minutes = ({ low, middle, high }: Spread) =>
  [low, middle, high].map((value) => Math.round(value) / MINUTE);

describe('exposureAt, worked out by hand', () => {
  const throughDeck = exposure(layer(6000, 9000, LIGHT_ICE));

  test('a deck from 6,000 to 9,000 ft costs 3 min in the climb at 1,000 ft/min and 6 in the descent at 500', () => {
    expect(minutes(throughDeck.icingS)).toEqual([9, 9, 9]);
    assertClose(throughDeck.icingHighByPhaseS.climb, 3 * MINUTE, BY_HAND);
    assertClose(throughDeck.icingHighByPhaseS.descent, 6 * MINUTE, BY_HAND);
    expect(throughDeck.icingHighByPhaseS.cruise).toBe(0);
  });

  test('9 min at 0.3 mm/min build 2.7 mm', () => {
    assertClose(throughDeck.builtM.middle * 1000, 2.7, BY_HAND_F32);
  });

  test('the time is at light or worse, and none of it at moderate', () => {
    expect(minutes(throughDeck.intensityS.trace)).toEqual([9, 9, 9]);
    expect(minutes(throughDeck.intensityS.light)).toEqual([9, 9, 9]);
    expect(throughDeck.intensityS.moderate.high).toBe(0);
    expect(throughDeck.worstIntensity).toBe('light');
  });

  // Priming 4 L, reserve 30 min at 0.45 L/min 13.5 L, 9 min at 0.45: 4.05 L.
  test('fluid is priming, flow in the deck and reserve', () => {
    assertClose(throughDeck.fluidM3.middle * 1000, 4 + 13.5 + 4.05, BY_HAND);
    expect(throughDeck.fluidHighKnownM3).toBe(throughDeck.fluidM3.high);
  });

  // 0.3 mm/min of ice of 900 kg/m3 is 0.0045 kg/m2/s; three times that would grow 0.92 mm/min of 880 kg/m3: 2.2 in/h.
  test('a tenth of the draws with three times the water makes the high estimate and its high setting', () => {
    const curtain = makeCurtain(makeTestRoute().pointCount, layer(6000, 9000, LIGHT_ICE));
    const { drawn } = curtain;
    for (let at = 0; at < drawn.marks.length; at += 1) {
      if (at % TEST_DRAWS > 1) continue;
      drawn.growthMps[at]! *= 3;
      drawn.catchKgPerM2S[at]! *= 3;
    }
    const found = exposureIn(curtain);
    assertClose(found.builtM.high * 1000, 8.1, BY_HAND_F32);
    assertClose(found.builtM.middle * 1000, 2.7, BY_HAND_F32);
    assertClose(found.fluidM3.high * 1000, 4 + 13.5 + 8.1, BY_HAND);
    assertClose(found.fluidM3.middle * 1000, 4 + 13.5 + 4.05, BY_HAND);
  });

  test('moderate icing flows at the high setting in every estimate', () => {
    const { fluidM3 } = exposure(layer(6000, 9000, MODERATE_ICE));
    for (const litersM3 of [fluidM3.low, fluidM3.middle, fluidM3.high]) {
      assertClose(litersM3 * 1000, 4 + 13.5 + 9 * 0.9, BY_HAND);
    }
  });

  test('cruising in ice counts the cruise', () => {
    const { icingHighByPhaseS } = exposure(layer(9500, 10500, LIGHT_ICE));
    assertClose(icingHighByPhaseS.cruise, (116 / 180) * 3600, BY_HAND);
    assertClose(icingHighByPhaseS.climb, 0.5 * MINUTE, BY_HAND);
  });

  test('an altitude on the edge between two cells flies in the upper one', () => {
    expect(exposure(layer(9500, 10000, LIGHT_ICE)).icingHighByPhaseS.cruise).toBe(0);
    expect(exposure(layer(10000, 10500, LIGHT_ICE)).icingHighByPhaseS.cruise).toBeGreaterThan(0);
  });

  test('ice over two of the points in cruise counts their stretches, half way to the neighbors', () => {
    const route = makeTestRoute();
    const stretchNm =
      (route.distanceM[13]! + route.distanceM[14]! - route.distanceM[11]! - route.distanceM[12]!) / 2 / 1852;
    const { icingS } = exposure(layer(9500, 10500, LIGHT_ICE, [12, 13]));
    assertClose(icingS.middle, (stretchNm / 180) * 3600, BY_HAND);
  });

  test('mean temperature, headwind and true airspeed are those of the cruise', () => {
    const found = exposure((_, middleFt) =>
      middleFt > 10000 ? { temperatureC: -17, windNorthMps: -12 } : { temperatureC: 0, windNorthMps: 3 },
    );
    assertClose(found.staticTemperatureK, kFromC(-17), { abs: 1e-4, why: '32-bit columns' });
    assertClose(found.headwindMps, 12, { abs: 1e-6, why: 'due north' });
    assertClose(found.trueAirspeedMps, mpsFromKt(180), BY_HAND);
  });
});

describe('exposureAt and probability', () => {
  test.each([
    [1, [9, 9, 9]],
    [0.9, [9, 9, 9]],
    [0.8, [0, 9, 9]],
    [0.6, [0, 9, 9]],
    [0.4, [0, 0, 9]],
    [0.2, [0, 0, 9]],
    [0.1, [0, 0, 0]],
  ])('a deck of probability %f counts in low, middle and high as %j min', (icingProbability, expected) => {
    const cell = { ...LIGHT_ICE, icingProbability, cloudProbability: 0 };
    const found = exposure(layer(6000, 9000, cell));
    expect(minutes(found.icingS)).toEqual(expected);
    assertClose(found.iceChance, icingProbability, { abs: 1e-9, why: 'ten draws' });
    assertClose(found.expectedIcingS, icingProbability * 9 * MINUTE, { abs: 1e-6, why: 'ten draws' });
  });

  test('ice that is probable enough is at least a trace, however little grows', () => {
    const { intensityS, worstIntensity } = exposure(
      layer(6000, 9000, { icingProbability: 0.9, cloudProbability: 1, growthMmPerMin: 0, intensity: 0 }),
    );
    expect(minutes(intensityS.trace)).toEqual([9, 9, 9]);
    expect(worstIntensity).toBe('trace');
  });

  test('cloud below freezing without ice is moisture and uses fluid', () => {
    const found = exposure(layer(6000, 9000, { cloudProbability: 0.9 }));
    expect(minutes(found.moistureBelowFreezingS)).toEqual([9, 9, 9]);
    expect(minutes(found.icingS)).toEqual([0, 0, 0]);
    assertClose(found.fluidM3.middle * 1000, 4 + 13.5 + 4.05, BY_HAND);
  });

  test.each([
    [-0.1, 9],
    [0.1, 0],
    [2, 0],
  ])('cloud at %f degC is %i min of moisture below freezing', (temperatureC, expected) => {
    const found = exposure(layer(6000, 9000, { cloudProbability: 0.9, temperatureC }));
    expect(minutes(found.moistureBelowFreezingS)[1]).toBe(expected);
  });

  test('dry air needs no fluid at all', () => {
    expect(exposure(DRY).fluidM3).toEqual({ low: 0, middle: 0, high: 0 });
  });

  test('near freezing, where little of a great catch freezes, fluid still flows high', () => {
    const wet = layer(6000, 9000, {
      icingProbability: 0.9,
      cloudProbability: 1,
      growthMmPerMin: 0.5,
      intensity: 2,
    });
    const curtain = makeCurtain(makeTestRoute().pointCount, wet);
    curtain.icing.wingGrowthMps.fill(0);
    curtain.drawn.growthMps.fill(0);
    const found = exposureIn(curtain);
    assertClose(found.fluidM3.middle * 1000, 4 + 13.5 + 8.1, BY_HAND);
  });
});

describe('exposureAt, properties on invented curtains', () => {
  const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(500), cellCount: 20 });
  const pointCount = makeTestRoute(60).pointCount;
  const anyExposure = randomCells(pointCount, axis).map((cellAt) =>
    exposure(cellAt, { axis, cruiseFt: 6000, lengthNm: 60 }),
  );
  const SEED = { seed: 2026, numRuns: 100 };

  test('low is never above middle, nor middle above high', () => {
    fc.assert(
      fc.property(anyExposure, (found) => {
        const { icingS, moistureBelowFreezingS, builtM, fluidM3, fluidTripM3, builtAtLandingM, intensityS } =
          found;
        for (const spread of [
          icingS,
          moistureBelowFreezingS,
          builtM,
          fluidM3,
          fluidTripM3,
          builtAtLandingM,
          ...Object.values(intensityS),
        ]) {
          expect(spread.low).toBeLessThanOrEqual(spread.middle);
          expect(spread.middle).toBeLessThanOrEqual(spread.high);
        }
      }),
      SEED,
    );
  });

  test('time at an intensity or worse is never less than at the next worse one, and all icing is at least a trace', () => {
    fc.assert(
      fc.property(anyExposure, ({ intensityS, icingS, totalS, unknownS }) => {
        for (const estimate of ['low', 'middle', 'high'] as const) {
          assertClose(intensityS.trace[estimate], icingS[estimate], {
            abs: 1e-9,
            why: 'icing is summed part by part',
          });
          expect(intensityS.light[estimate]).toBeLessThanOrEqual(intensityS.trace[estimate]);
          expect(intensityS.moderate[estimate]).toBeLessThanOrEqual(intensityS.light[estimate]);
          expect(intensityS.severe[estimate]).toBeLessThanOrEqual(intensityS.moderate[estimate]);
          expect(icingS[estimate]).toBeLessThanOrEqual(totalS - unknownS + 1e-6);
        }
      }),
      SEED,
    );
  });

  test('cells cut in two with the same air change nothing', () => {
    const fine = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(250), cellCount: 40 });
    fc.assert(
      fc.property(randomCells(pointCount, axis), (cellAt) => {
        const coarse = exposure(cellAt, { axis, cruiseFt: 6000, lengthNm: 60 });
        const split = exposure((point, middleFt) => cellAt(point, 500 * Math.floor(middleFt / 500) + 250), {
          axis: fine,
          cruiseFt: 6000,
          lengthNm: 60,
        });
        assertClose(split.icingS.middle, coarse.icingS.middle, { abs: 1e-6, why: 'exact splitting' });
        assertClose(split.unknownS, coarse.unknownS, { abs: 1e-6, why: 'exact splitting' });
        assertClose(split.builtM.high, coarse.builtM.high, { abs: 1e-12, why: 'exact splitting' });
      }),
      { seed: 77, numRuns: 40 },
    );
  });
});
