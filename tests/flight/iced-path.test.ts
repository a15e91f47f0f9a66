/** What ice, the inlet separator and changes of altitude do to a flight. Times and distances are worked out by hand. */
import { describe, expect, test } from 'vitest';
import { makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { makeFlightPath, type PathRequest, type PathStep } from '../../worker/flight/flight-path.ts';
import { altitudeAt } from '../../worker/flight/path-places.ts';
import { NO_WIND } from '../../worker/flight/timing.ts';
import { mFromFt, mFromNm, nmFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { exposure, type Path } from './fly-curtain.ts';
import {
  type CellAt,
  DRY,
  LIGHT_ICE,
  layer,
  makeCurtain,
  makeTestRoute,
  ROUND_AIRCRAFT,
  TEST_AXIS,
  UNKNOWN,
} from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
const BY_HAND_F32 = { rel: 1e-6, why: 'by hand, columns are 32-bit' };
const MM = 0.001;

/** Loses 1 % of speed and 3 % of climb, and burns 0.5 % more, for each millimeter. */
const ICED = { ...ROUND_AIRCRAFT, iceLoss: { airspeedPerM: 10, climbRatePerM: 30, fuelFlowGainPerM: 5 } };
const WITH_SEPARATOR = {
  ...ROUND_AIRCRAFT,
  separator: { airspeedLoss: 0.02, climbRateLoss: 0.1, fuelFlowGain: 0.04 },
};

function fly(change: Partial<PathRequest> & { readonly cellAt?: CellAt | 'not asked' } = {}) {
  const { cellAt = DRY, route = makeTestRoute(), ...rest } = change;
  return makeFlightPath({
    route,
    aircraft: ROUND_AIRCRAFT,
    windAt: NO_WIND,
    layout: TEST_AXIS,
    levels: [{ fromM: 0, pressureAltitudeM: mFromFt(10000) }],
    departurePressureAltitudeM: 0,
    destinationPressureAltitudeM: 0,
    ...(cellAt === 'not asked' ? {} : { facts: makeCellFacts(makeCurtain(route.pointCount, cellAt)) }),
    ...rest,
  });
}

function flown(change: Parameters<typeof fly>[0] = {}): Path {
  const path = fly(change);
  if (path.kind !== 'path') throw new Error(path.kind);
  return path;
}

describe('makeFlightPath with ice on the aeroplane', () => {
  // 10 mm leave 70 % of 1,000 ft/min and 90 % of 180 kt: 10,000 ft take 14.286 min over 28.571 NM, and with 50 NM of descent
  // 107.429 NM of cruise at 162 kt take 39.788 min.
  const path = flown({ aircraft: ICED, residualIceM: 10 * MM });

  test('10 mm leave 70 % of the climb rate and 90 % of the cruise speed', () => {
    assertClose(path.phaseS.climb / 60, 10000 / 700, BY_HAND);
    assertClose(path.phaseS.cruise / 60, ((186 - 50 - (10000 / 700) * 2) / 162) * 60, BY_HAND);
    assertClose(path.phaseS.cruise / 60, 39.788, { abs: 0.0005, why: 'three decimals' });
  });

  test('the descent is not slowed', () => {
    assertClose(path.phaseS.descent, 1200, BY_HAND);
  });

  test('10 mm cost 5 % of the fuel flow', () => {
    assertClose(path.fuelKg, (path.totalS / 3600) * 63, BY_HAND);
  });

  // Half a minute at 2 mm/min in one cell makes 1 mm, which leaves 97 %: 1,000 ft clean, 9,000 ft at 970 ft/min.
  test('ice gathered on the way up slows the rest of the climb', () => {
    const sure = { ...LIGHT_ICE, icingProbability: 1, growthMmPerMin: 2 };
    const { phaseS, steps } = flown({ aircraft: ICED, cellAt: layer(500, 1000, sure, [0, 0]) });
    assertClose(phaseS.climb / 60, 1 + 9000 / 970, BY_HAND_F32);
    assertClose(steps.find(({ phase }) => phase === 'cruise')!.builtM, 1 * MM, BY_HAND_F32);
  });

  test('what gathers is the mean over the draws: ice of one half grows half as much', () => {
    const half = { ...LIGHT_ICE, icingProbability: 0.5, growthMmPerMin: 2 };
    const { steps } = flown({ cellAt: layer(500, 1000, half, [0, 0]) });
    assertClose(steps.at(-1)!.builtM, 0.5 * MM, BY_HAND_F32);
  });

  // 20 mm at 4.6 % a millimeter leave 80 ft/min, at 4.4 % 120.
  test('a climb slower than 100 ft/min is none', () => {
    const losing = (pctPerMm: number) => ({
      ...ICED,
      iceLoss: { ...ICED.iceLoss, climbRatePerM: pctPerMm * 10 },
    });
    expect(fly({ aircraft: losing(4.6), residualIceM: 20 * MM })).toEqual({
      kind: 'cannot-climb',
      pressureAltitudeM: 0,
      distanceM: 0,
      builtM: 20 * MM,
    });
    const slow = fly({ aircraft: losing(4.4), residualIceM: 20 * MM, route: makeTestRoute(400) });
    expect(slow.kind).toBe('path');
  });

  // The proportion holds no further: 40 % of 1,000 ft/min and 80 % of 180 kt.
  test('more than 20 mm cost what 20 mm cost', () => {
    const { phaseS } = flown({ aircraft: ICED, residualIceM: 60 * MM });
    assertClose(phaseS.climb / 60, 25, BY_HAND);
    assertClose(phaseS.cruise / 60, ((186 - 50 - 50) / 144) * 60, BY_HAND);
  });

  test('without facts of the air the aeroplane keeps the ice it took off with', () => {
    const { steps } = flown({ cellAt: 'not asked', residualIceM: 2 * MM });
    expect(new Set(steps.map(({ builtM }) => builtM))).toEqual(new Set([2 * MM]));
  });
});

describe('makeFlightPath with the inlet separator', () => {
  const moist = (temperatureC: number, cloudProbability = 0.9) =>
    layer(2000, 4000, { temperatureC, cloudProbability });
  const climbMin = (cellAt: CellAt) => flown({ aircraft: WITH_SEPARATOR, cellAt }).phaseS.climb / 60;

  // 2,000 ft of cloud at 900 ft/min, 8,000 ft at 1,000.
  test('costs a tenth of the climb in visible moisture at +5 degC or colder', () => {
    for (const temperatureC of [-10, 4.99])
      assertClose(climbMin(moist(temperatureC)), 8 + 2000 / 900, BY_HAND);
    assertClose(climbMin(moist(5.1)), 10, BY_HAND);
  });

  test('stays off where cloud is not expected', () => {
    assertClose(climbMin(moist(-10, 0.4)), 8 + 2000 / 900, BY_HAND);
    assertClose(climbMin(moist(-10, 0.39)), 10, BY_HAND);
  });

  // 116 NM at 98 % of 180 kt, the fuel flow of the cruise 4 % up.
  test('costs speed and fuel in the cruise', () => {
    const cloud = layer(10000, 10500, { cloudProbability: 0.9 });
    const { phaseS, fuelKg } = flown({ aircraft: WITH_SEPARATOR, cellAt: cloud });
    assertClose(phaseS.cruise, (116 / (180 * 0.98)) * 3600, BY_HAND);
    assertClose(fuelKg, ((phaseS.climb + phaseS.descent) * 60 + phaseS.cruise * 62.4) / 3600, BY_HAND);
  });

  test('unknown air takes nothing from the performance, since it is told as unknown', () => {
    assertClose(climbMin(layer(2000, 4000, UNKNOWN)), 10, BY_HAND);
  });
});

const levelS = (steps: readonly PathStep[]): number =>
  steps.reduce((sumS, { isLevel, durationS }) => sumS + (isLevel ? durationS : 0), 0);

describe('makeFlightPath with changes of altitude', () => {
  const levels = (...rows: readonly (readonly [number, number])[]) =>
    rows.map(([fromNm, altitudeFt]) => ({ fromM: mFromNm(fromNm), pressureAltitudeM: mFromFt(altitudeFt) }));

  // Up 5,000 ft: 5 min, 10 NM; up 4,000 ft from 60 NM: 4 min, 8 NM; down 9,000 ft: 18 min, 45 NM; 123 NM level: 41 min. The cruise
  // is everything between the first level and the last descent.
  test('a step up is climbed at the rate of climb from the place asked for', () => {
    const { phaseS, steps } = flown({ levels: levels([0, 5000], [60, 9000]) });
    assertClose(phaseS.climb / 60, 5, BY_HAND);
    assertClose(phaseS.descent / 60, 18, BY_HAND);
    assertClose(phaseS.cruise / 60, 45, BY_HAND);
    assertClose(levelS(steps) / 60, 41, BY_HAND);
    const overFt = (distanceNm: number) => altitudeAt(steps, 0, mFromNm(distanceNm)) / mFromFt(1);
    assertClose(overFt(5), 2500, BY_HAND);
    assertClose(overFt(59), 5000, BY_HAND);
    assertClose(overFt(64), 7000, BY_HAND);
    assertClose(overFt(100), 9000, BY_HAND);
  });

  // Up 9,000 ft: 9 min, 18 NM; down 4,000 ft: 8 min, 20 NM; down 5,000 ft: 10 min, 25 NM; 123 NM level: 41 min.
  test('a step down is descended at the rate of descent', () => {
    const { phaseS, steps } = flown({ levels: levels([0, 9000], [60, 5000]) });
    assertClose(phaseS.climb / 60, 9, BY_HAND);
    assertClose(phaseS.descent / 60, 10, BY_HAND);
    assertClose(phaseS.cruise / 60, 49, BY_HAND);
    assertClose(levelS(steps) / 60, 41, BY_HAND);
    assertClose(altitudeAt(steps, 0, mFromNm(70)) / mFromFt(1), 7000, BY_HAND);
  });

  test('steps join in distance and in altitude', () => {
    const { steps } = flown({ levels: levels([0, 5000], [60, 9000], [100, 3000]) });
    steps.forEach((step, index) => {
      assertClose(step.fromM, steps[index - 1]?.toM ?? 0, BY_HAND);
      const startM = steps[index - 1]?.endAltitudeM ?? 0;
      assertClose(step.pressureAltitudeM, (startM + step.endAltitudeM) / 2, BY_HAND);
    });
    assertClose(nmFromM(steps.at(-1)!.toM), 186, BY_HAND);
  });

  // From 9,000 ft the last descent begins 45 NM before the end, 141 NM out.
  test('a change that is not over before the last descent has no room', () => {
    expect(fly({ levels: levels([0, 5000], [132, 9000]) }).kind).toBe('path');
    expect(fly({ levels: levels([0, 5000], [134, 9000]) }).kind).toBe('leg-too-short');
  });
});

describe('exposureAt and ice on the aeroplane', () => {
  test('ice left at lift-off is at the landing too, and in no sum of what is built', () => {
    const found = exposure(DRY, { residualIceM: 2 * MM });
    expect([found.builtM.high, found.residualIceM]).toEqual([0, 2 * MM]);
    expect(found.builtAtLandingM).toEqual({ low: 2 * MM, middle: 2 * MM, high: 2 * MM });
  });

  // 180 kt at 10,000 ft and the standard -4.81 degC: the density ratio is 0.7385 (standard atmosphere), its root 0.85936; with
  // 10 mm 90 % are left: 139.22 kt indicated. Ice that grows nothing leaves it at 10 mm.
  test('the least indicated airspeed in expected ice, or with a millimeter on, is that of the iced wing', () => {
    const noGrowth = { icingProbability: 0.9, cloudProbability: 0.9, intensity: 1, temperatureC: -4.812 };
    const least = (residualIceM: number, cell = noGrowth) =>
      exposure(layer(10000, 10500, cell), { aircraft: ICED, residualIceM }).leastIcingAirspeedMps /
      (1852 / 3600);
    assertClose(least(10 * MM), 180 * 0.85936 * 0.9, { abs: 0.02, why: 'four digits of the ratio' });
    assertClose(least(0), 180 * 0.85936, { abs: 0.02, why: 'four digits of the ratio' });
    const unlikely = { ...noGrowth, icingProbability: 0.3 };
    assertClose(least(10 * MM, unlikely), 180 * 0.85936 * 0.9, {
      abs: 0.02,
      why: 'four digits of the ratio',
    });
    expect(least(0.9 * MM, unlikely)).toBe(Number.POSITIVE_INFINITY);
  });

  test('in the climb alone no airspeed is asked for', () => {
    expect(exposure(layer(6000, 9000, LIGHT_ICE), { aircraft: ICED }).leastIcingAirspeedMps).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  test('the cruise in the upper 1,000 ft of ice is close under the tops, lower in it is not', () => {
    const cruise = (topFt: number) => exposure(layer(9000, topFt, LIGHT_ICE)).underTopsS;
    assertClose(cruise(11000), (116 / 180) * 3600, BY_HAND);
    expect(cruise(11500)).toBe(0);
    expect(cruise(10000)).toBe(0);
  });
});
