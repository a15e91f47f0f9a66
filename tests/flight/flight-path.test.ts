import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type FlightPath, makeFlightPath, type PathRequest } from '../../worker/flight/flight-path.ts';
import { altitudesOverPoints, secondsOverPoints } from '../../worker/flight/path-places.ts';
import { makeTiming, NO_WIND } from '../../worker/flight/timing.ts';
import type { WindAt } from '../../worker/flight/types.ts';
import { mFromFt, mpsFromKt, nmFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { makeTestRoute, ROUND_AIRCRAFT, TEST_AXIS } from './make-curtain.ts';

const level = (altitudeFt: number) => [{ fromM: 0, pressureAltitudeM: mFromFt(altitudeFt) }];

function request(change: Partial<PathRequest> = {}): PathRequest {
  return {
    route: makeTestRoute(),
    aircraft: ROUND_AIRCRAFT,
    windAt: NO_WIND,
    layout: TEST_AXIS,
    levels: level(10000),
    departurePressureAltitudeM: 0,
    destinationPressureAltitudeM: 0,
    ...change,
  };
}

function flown(change: Partial<PathRequest> = {}): Extract<FlightPath, { kind: 'path' }> {
  const path = makeFlightPath(request(change));
  if (path.kind !== 'path') throw new Error(`found ${path.kind}`);
  return path;
}

const constantWind =
  (northKt: number): WindAt =>
  () => ({ eastMps: 0, northMps: mpsFromKt(northKt) });

describe('makeFlightPath', () => {
  // By hand: climb 10 min over 20 NM, descent 20 min over 50 NM, cruise 186 - 70 = 116 NM at 180 kt: 38.667 min.
  test('climbs, cruises and descends as worked out by hand in still air', () => {
    const { phaseS, totalS } = flown();
    assertClose(phaseS.climb, 600, { abs: 1e-6, why: 'by hand' });
    assertClose(phaseS.descent, 1200, { abs: 1e-6, why: 'by hand' });
    assertClose(phaseS.cruise, (116 / 180) * 3600, { abs: 1e-6, why: 'by hand' });
    assertClose(totalS, 600 + 1200 + 2320, { abs: 1e-6, why: 'by hand' });
  });

  // By hand: 20 kt against on the northbound leg: climb at 100 kt 16.667 NM, descent at 130 kt 43.333 NM, cruise 126 NM at 160.
  test('a headwind stretches the cruise and shortens the ground covered in climb and descent', () => {
    const { phaseS } = flown({ windAt: constantWind(-20) });
    assertClose(phaseS.climb, 600, { abs: 1e-6, why: 'by hand' });
    assertClose(phaseS.cruise, (126 / 160) * 3600, { abs: 1e-6, why: 'by hand' });
  });

  // By hand: up 500 ft a mile over 20 NM, down 200 ft a mile over the last 50 of 186 NM.
  test('its altitude over a point is that of the climb, the level or the descent there', () => {
    const { route } = request();
    const overM = altitudesOverPoints(route, flown().steps, 0);
    expect(overM).toHaveLength(route.pointCount);
    route.distanceM.forEach((distanceM, point) => {
      const nm = nmFromM(distanceM);
      const byHandFt = Math.min(500 * nm, 10000, 200 * (186 - nm));
      assertClose(overM[point]!, mFromFt(byHandFt), { abs: 1e-3, why: 'by hand' });
    });
  });

  test('fuel is flow times time', () => {
    const path = flown();
    assertClose(path.fuelKg, (path.totalS / 3600) * 60, { abs: 1e-9, why: 'one flow throughout' });
  });

  test('steps join without a gap from start to end and each lies in one cell and one point stretch', () => {
    const { route } = request();
    const { steps } = flown({ levels: level(9850) });
    let atM = 0;
    for (const step of steps) {
      assertClose(step.fromM, atM, { abs: 1e-6, why: 'rounding' });
      atM = step.toM;
      const middleM = (step.fromM + step.toM) / 2;
      const toItsPointM = Math.abs(route.distanceM[step.pointIndex]! - middleM);
      const nearestM = Math.min(...route.distanceM.map((distanceM) => Math.abs(distanceM - middleM)));
      assertClose(toItsPointM, nearestM, { abs: 1e-6, why: 'the nearest point owns the step' });
    }
    assertClose(atM, route.distanceM.at(-1)!, { abs: 1e-6, why: 'rounding' });
  });

  test('finer cells change no sum', () => {
    const coarse = flown();
    const fine = flown({ layout: { lowestM: 0, cellDepthM: mFromFt(50) } });
    assertClose(fine.totalS, coarse.totalS, { abs: 1e-6, why: 'splitting is exact' });
    expect(fine.steps.length).toBeGreaterThan(coarse.steps.length);
  });

  test('unknown wind is flown as still air and its time is counted', () => {
    const path = flown();
    assertClose(path.windUnknownS, path.totalS, { abs: 1e-9, why: 'unknown everywhere' });
    expect(flown({ windAt: constantWind(5) }).windUnknownS).toBe(0);
  });

  test('a leg with no room for climb and descent is too short', () => {
    expect(makeFlightPath(request({ route: makeTestRoute(69) })).kind).toBe('leg-too-short');
    expect(makeFlightPath(request({ route: makeTestRoute(71) })).kind).toBe('path');
  });

  test('a wind that leaves no ground speed is no path, and says where', () => {
    const path = makeFlightPath(request({ windAt: constantWind(-170) }));
    expect(path).toMatchObject({ kind: 'wind-too-strong' });
  });

  test('8 kt over the ground in the climb is too little to work out a time', () => {
    expect(makeFlightPath(request({ windAt: constantWind(-112) })).kind).toBe('wind-too-strong');
    expect(makeFlightPath(request({ windAt: constantWind(-100), route: makeTestRoute(400) })).kind).toBe(
      'path',
    );
  });

  test('a crosswind stronger than the airspeed is no path either', () => {
    const windAt: WindAt = () => ({ eastMps: mpsFromKt(190), northMps: 0 });
    expect(makeFlightPath(request({ windAt })).kind).toBe('wind-too-strong');
  });

  test('more headwind never makes a flight shorter in time', () => {
    fc.assert(
      fc.property(fc.integer({ min: -60, max: 60 }), fc.integer({ min: 0, max: 30 }), (windKt, moreKt) => {
        const less = flown({ windAt: constantWind(-windKt) }).totalS;
        expect(flown({ windAt: constantWind(-windKt - moreKt) }).totalS).toBeGreaterThanOrEqual(less - 1e-6);
      }),
      { seed: 11, numRuns: 40 },
    );
  });
});

describe('secondsOverPoints', () => {
  test('is zero at the start, the whole time at the end, and rises between', () => {
    const path = flown();
    const seconds = secondsOverPoints(makeTestRoute(), path);
    expect(seconds[0]).toBe(0);
    assertClose(seconds.at(-1)!, path.totalS, { abs: 1e-6, why: 'rounding' });
    for (let point = 1; point < seconds.length; point += 1)
      expect(seconds[point]).toBeGreaterThan(seconds[point - 1]!);
  });
});

describe('makeTiming', () => {
  const departureMs = Date.UTC(2026, 0, 14, 11, 30);
  const timing = (change: Partial<Parameters<typeof makeTiming>[0]> = {}) =>
    makeTiming({
      route: makeTestRoute(),
      departureMs,
      aircraft: ROUND_AIRCRAFT,
      cruisePressureAltitudeM: mFromFt(10000),
      windAt: NO_WIND,
      ...change,
    });

  test('gives whole milliseconds from departure to arrival', () => {
    const { etaMs, totalS } = timing();
    expect(etaMs[0]).toBe(departureMs);
    expect(etaMs.at(-1)).toBe(departureMs + Math.round(totalS * 1000));
  });

  // By hand: 46.5 NM lies 26.5 NM into the cruise: 600 s + 26.5 / 180 h.
  test('a point in the cruise is reached when worked out by hand', () => {
    const route = makeTestRoute();
    const point = 10;
    const cruisedNm = route.distanceM[point]! / 1852 - 20;
    const expectedS = 600 + (cruisedNm / 180) * 3600;
    assertClose((timing().etaMs[point]! - departureMs) / 1000, expectedS, {
      abs: 0.001,
      why: 'whole milliseconds',
    });
  });

  test('a short leg is timed at the highest altitude it has room for', () => {
    const short = timing({ route: makeTestRoute(40) });
    expect(short.cruisePressureAltitudeM).toBeLessThan(mFromFt(10000));
    expect(short.cruisePressureAltitudeM).toBeGreaterThan(mFromFt(5000));
    assertClose(short.etaMs.at(-1)!, departureMs + short.totalS * 1000, {
      abs: 1,
      why: 'whole milliseconds',
    });
  });

  test('a leg too short to climb at all is timed level', () => {
    const tiny = timing({ route: makeTestRoute(0.5) });
    assertClose(tiny.totalS, (0.5 / 180) * 3600, { abs: 1e-3, why: 'by hand' });
  });

  test('a wind too strong to fly in is said, and the times are those of still air', () => {
    const strong = timing({ windAt: constantWind(-175) });
    expect(strong.isWindTooStrong).toBe(true);
    expect(strong.totalS).toBe(timing().totalS);
  });

  test('says how much of the time the wind is unknown', () => {
    const halfKnown: WindAt = (point) => (point < 10 ? { eastMps: 0, northMps: 0 } : undefined);
    const { windUnknownS, totalS } = timing({ windAt: halfKnown });
    expect(windUnknownS).toBeGreaterThan(0.5 * totalS);
    expect(windUnknownS).toBeLessThan(0.9 * totalS);
  });

  test('starts and ends at the elevations of the aerodromes', () => {
    const high = timing({ route: makeTestRoute(186, mFromFt(5000)) });
    const { totalS } = timing();
    const cruiseOfClimbS = (10 / 180) * 3600;
    const cruiseOfDescentS = (25 / 180) * 3600;
    assertClose(high.totalS, totalS - 900 + cruiseOfClimbS + cruiseOfDescentS, { abs: 1e-3, why: 'by hand' });
  });
});
