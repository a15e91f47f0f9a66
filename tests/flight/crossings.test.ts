/** Minimum crossing altitudes, worked out by hand: 1,000 ft/min up at 120 kt is 500 ft a mile. */
import { describe, expect, test } from 'vitest';
import { brokenCrossing, climbTo, crossingReasons } from '../../worker/flight/crossings.ts';
import { makeFlightPath, type PathRequest } from '../../worker/flight/flight-path.ts';
import type { MinimumCrossing, WindAt } from '../../worker/flight/types.ts';
import { mFromFt, mFromNm, mpsFromKt, nmFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { at, choose, codesOf } from './choose.ts';
import type { Path } from './fly-curtain.ts';
import { DRY, makeChooseInput, makeTestRoute, ROUND_AIRCRAFT, TEST_AXIS } from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
const ICED = { ...ROUND_AIRCRAFT, iceLoss: { airspeedPerM: 0, climbRatePerM: 30, fuelFlowGainPerM: 0 } };
const over = (distanceNm: number, altitudeFt: number): MinimumCrossing => ({
  name: 'RIDGE',
  distanceM: mFromNm(distanceNm),
  altitudeM: mFromFt(altitudeFt),
});

/** From the sea, level by level: [from NM, ft]. */
function flown(levels: readonly (readonly [number, number])[], change: Partial<PathRequest> = {}): Path {
  const path = makeFlightPath({
    route: makeTestRoute(),
    aircraft: ROUND_AIRCRAFT,
    windAt: () => ({ eastMps: 0, northMps: 0 }),
    layout: TEST_AXIS,
    levels: levels.map(([fromNm, altitudeFt]) => ({
      fromM: mFromNm(fromNm),
      pressureAltitudeM: mFromFt(altitudeFt),
    })),
    departurePressureAltitudeM: 0,
    destinationPressureAltitudeM: 0,
    ...change,
  });
  if (path.kind !== 'path') throw new Error(path.kind);
  return path;
}

const broken = (path: Path, crossing: MinimumCrossing, aircraft = ROUND_AIRCRAFT) =>
  brokenCrossing({ crossings: [crossing], indicatedMinusPressureM: 0, aircraft }, path, 0);

describe('brokenCrossing', () => {
  const at5000 = flown([[0, 5000]]);

  test('is silent where the path is at the altitude or higher', () => {
    expect(broken(at5000, over(60, 5000))).toBeUndefined();
    // 8 NM out the climb is at 4,000 ft.
    expect(broken(at5000, over(8, 4000))).toBeUndefined();
    // Down from 5,000 ft over the last 25 NM: 2,500 ft at 12.5 NM from the end.
    expect(broken(at5000, over(173.5, 2500))).toBeUndefined();
  });

  test('names the place, the altitude and where the climb must start', () => {
    // 3,000 ft up take 6 NM.
    expect(broken(at5000, over(60, 8000))).toEqual({
      code: 'below-crossing-altitude',
      sentence: '8,000 ft is the least over RIDGE (60 NM), the climb must start by 54 NM',
      numbers: { minimumFt: 8000, distanceNm: 60, climbStartNm: 54 },
    });
    expect(broken(at5000, over(8, 4100))?.code).toBe('below-crossing-altitude');
    expect(broken(at5000, over(173.5, 2600))?.code).toBe('below-crossing-altitude');
  });

  test('says so when no climb reaches it', () => {
    const weak = { ...ICED, climbRateMps: { pressureAltitudeM: [0, mFromFt(10000)], value: [5, 0.1] } };
    expect(broken(at5000, over(60, 12000), weak)?.sentence).toBe(
      '12,000 ft is the least over RIDGE (60 NM), no climb reaches it',
    );
    // 4,000 ft take 8 NM and there are 4.
    expect(broken(flown([[0, 2000]]), over(4, 9000))?.sentence).toContain('no climb reaches it');
  });

  test('holds on the altimeter: 300 ft of setting count', () => {
    const low = { crossings: [over(60, 5000)], aircraft: ROUND_AIRCRAFT };
    expect(brokenCrossing({ ...low, indicatedMinusPressureM: mFromFt(-300) }, at5000, 0)).toBeDefined();
    expect(brokenCrossing({ ...low, indicatedMinusPressureM: mFromFt(300) }, at5000, 0)).toBeUndefined();
  });
});

describe('climbTo', () => {
  const start = { fromM: mFromFt(5000), indicatedMinusPressureM: 0 };
  const startNm = (path: Path, aircraft = ROUND_AIRCRAFT) =>
    nmFromM(climbTo(aircraft, path, over(60, 8000), start)!.startM);

  test('begins earlier with ice: 10 mm leave 700 ft/min, 8.571 NM for 3,000 ft', () => {
    assertClose(startNm(flown([[0, 5000]], { residualIceM: 0.01 }), ICED), 60 - (3000 / 700) * 2, BY_HAND);
  });

  test('begins later against a headwind: 20 kt leave 100 over the ground, 5 NM', () => {
    const windAt: WindAt = () => ({ eastMps: 0, northMps: -mpsFromKt(20) });
    assertClose(startNm(flown([[0, 5000]], { windAt })), 55, BY_HAND);
  });

  test('counts on the inlet separator: a tenth less climb is 6.667 NM', () => {
    const aircraft = {
      ...ROUND_AIRCRAFT,
      separator: { airspeedLoss: 0, climbRateLoss: 0.1, fuelFlowGain: 0 },
    };
    assertClose(startNm(flown([[0, 5000]]), aircraft), 60 - (3000 / 900) * 2, BY_HAND);
  });
});

describe('crossingReasons', () => {
  const told = (path: Path, crossing: MinimumCrossing) =>
    crossingReasons(makeChooseInput(DRY, { aircraft: ROUND_AIRCRAFT, crossings: [crossing] }), path, 0);

  test('of a crossing in the climb from the departure say from where and how steeply', () => {
    expect(told(flown([[0, 9000]]), over(12, 5000))).toEqual([
      {
        code: 'minimum-crossing',
        sentence: 'Cross RIDGE at 5,000 ft or above: climb from 0 ft by 2 NM, 1,000 ft/min with ice',
        numbers: { minimumFt: 5000, distanceNm: 12, climbStartNm: 2, climbFtPerMin: 1000 },
      },
    ]);
  });

  test('of a step up before a crossing say the last place to begin it', () => {
    const [reason] = told(
      flown([
        [0, 5000],
        [40, 9000],
      ]),
      over(60, 8000),
    );
    expect(reason?.numbers).toMatchObject({ minimumFt: 8000, climbStartNm: 54 });
  });

  test('are silent where the path is high enough all along before it', () => {
    expect(
      told(
        flown([
          [0, 9000],
          [100, 5000],
        ]),
        over(60, 8000),
      ),
    ).toEqual([]);
  });
});

describe('chooseAltitude and crossings', () => {
  const choice = choose(DRY, { aircraft: ROUND_AIRCRAFT, crossings: [over(60, 8000)] });

  test('refuses every altitude under the crossing and keeps those from it on', () => {
    expect(at(choice, 7000)).toMatchObject({
      standing: 'below-minimum-altitude',
      inWords: 'below the crossing altitude of 8,000 ft',
      rank: undefined,
    });
    expect(codesOf(at(choice, 7000).reasons)).toEqual(['below-crossing-altitude']);
    expect(at(choice, 8000).exposure).toBeDefined();
  });

  test('refuses an altitude that is reached too late', () => {
    const soon = choose(DRY, { aircraft: ROUND_AIRCRAFT, crossings: [over(10, 6000)] });
    expect(soon.candidates.every(({ exposure }) => exposure === undefined)).toBe(true);
    expect(soon.verdict.code).toBe('unknown');
  });
});
