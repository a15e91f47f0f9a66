/** How the fluid goes along a flight. Worked out by hand with 0.45 and 0.9 L/min, 4 L of priming, 30 min of reserve. */
import { describe, expect, test } from 'vitest';
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import type { ChooseInput, FluidPlan } from '../../worker/flight/types.ts';
import { mFromFt, nmFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { at, choose } from './choose.ts';
import {
  type CellAt,
  DRY,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeAircraft,
  makeChooseInput,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
/** Points lie a little under 5 NM apart. */
const STRETCH_NM = nmFromM(makeTestRoute().distanceM[1]!);
const CHANGE: Partial<ChooseInput> = {
  aircraft: ROUND_AIRCRAFT,
  candidateAltitudesM: [mFromFt(10000)],
  planned: NOTHING_PLANNED,
};

/** Of the flight at 10,000 ft, the trip alone. */
function plan(
  cellAt: CellAt,
  onBoardL: number | undefined = 80,
  change: Partial<ChooseInput> = {},
): FluidPlan {
  const fluidOnBoardM3 = onBoardL === undefined ? undefined : onBoardL / 1000;
  return at(choose(cellAt, { ...CHANGE, ...change, fluidOnBoardM3 }), 10000).fluidPlan!;
}
/** Level at 10,000 ft over some points. */
const ahead = (first: number, last: number, cell = LIGHT_ICE) => layer(10000, 10500, cell, [first, last]);
const stretchesNm = ({ onStretches }: FluidPlan) =>
  onStretches.map(({ fromM, toM, setting }) => [nmFromM(fromM), nmFromM(toM), setting] as const);
/** The column of a point begins half a stretch before it. */
const entryNm = (point: number) => (point - 0.5) * STRETCH_NM;
/** Two minutes at 180 kt. */
const LEAD_NM = 6;

describe('the endurance of the fluid', () => {
  // 80 - 4 - 13.5 = 62.5 L.
  test('is what is free of priming and reserve at either setting', () => {
    const { enduranceNormalS, enduranceHighS } = plan(DRY);
    assertClose(enduranceNormalS! / 60, 62.5 / 0.45, BY_HAND);
    assertClose(enduranceHighS! / 60, 62.5 / 0.9, BY_HAND);
  });

  test('is less by one clearing of the windshield, and nothing when all is kept', () => {
    const candidate = at(choose(DRY, { ...CHANGE, aircraft: makeAircraft() }), 10000);
    assertClose(candidate.fluidPlan!.enduranceNormalS! / 60, 62 / 0.45, BY_HAND);
    expect(plan(DRY, 17).enduranceNormalS).toBe(0);
  });

  test('is not known when the quantity on board is not given, nor its weight, bursts or where it ends', () => {
    const input = makeChooseInput(ahead(10, 14), { ...CHANGE, fluidOnBoardM3: undefined });
    const [candidate] = chooseAltitude(input).candidates;
    expect(candidate!.fluidPlan).toMatchObject({
      enduranceNormalS: undefined,
      enduranceHighS: undefined,
      runsOutM: undefined,
      weightKg: undefined,
      bursts: undefined,
    });
  });
});

describe('the stretches to have the fluid on', () => {
  test('begin two minutes before the entry and end two minutes after the exit', () => {
    const [stretch, ...more] = stretchesNm(plan(ahead(10, 14)));
    assertClose(stretch![0], entryNm(10) - LEAD_NM, BY_HAND);
    assertClose(stretch![1], entryNm(15) + LEAD_NM, BY_HAND);
    expect([stretch![2], more]).toEqual(['normal', []]);
  });

  test('are one across a gap shorter than both leads, two across a longer one', () => {
    const gap =
      (points: readonly number[]): CellAt =>
      (point, middleFt) =>
        points.includes(point) ? {} : ahead(10, 16)(point, middleFt);
    // Two stretches are 9.8 NM, three 14.7.
    expect(stretchesNm(plan(gap([12, 13])))).toHaveLength(1);
    expect(stretchesNm(plan(gap([12, 13, 14])))).toHaveLength(2);
  });

  test('are at the high setting all along where half of their time has an inch an hour or more', () => {
    const moderateFrom =
      (first: number): CellAt =>
      (point, middleFt) =>
        ahead(10, 17, point < first ? LIGHT_ICE : MODERATE_ICE)(point, middleFt);
    const settings = (first: number) => stretchesNm(plan(moderateFrom(first))).map((each) => each[2]);
    // Of eight points five are more than half, three are less.
    expect(settings(13)).toEqual(['high']);
    expect(settings(15)).toEqual(['normal']);
  });

  test('hold cloud below freezing and unknown air, and none of dry air', () => {
    expect(stretchesNm(plan(ahead(10, 14, { cloudProbability: 0.6 } as typeof LIGHT_ICE)))).toHaveLength(1);
    expect(stretchesNm(plan(ahead(10, 14, UNKNOWN as typeof LIGHT_ICE)))[0]![2]).toBe('normal');
    expect(stretchesNm(plan(DRY))).toEqual([]);
  });

  test('near freezing, where little of a great catch freezes, are at the high setting as the quantity is', () => {
    const input = makeChooseInput(ahead(10, 14, { ...LIGHT_ICE, growthMmPerMin: 0.5 }), CHANGE);
    input.icing.wingGrowthMps.fill(0);
    input.drawn.growthMps.fill(0);
    const [candidate] = chooseAltitude(input).candidates;
    // 5 stretches at 180 kt at the high setting.
    const flowL = ((5 * STRETCH_NM) / 3) * 0.9;
    assertClose(candidate!.exposure!.fluidM3.high * 1000, 4 + 13.5 + flowL, BY_HAND);
    expect(candidate!.fluidPlan!.onStretches.map(({ setting }) => setting)).toEqual(['high']);
  });
});

describe('where the fluid runs out', () => {
  // 6 L less 4 of priming last 4.444 min at 0.45: 13.333 NM of the 24.5.
  test('is inside the ice when what is on board does not reach its end', () => {
    assertClose(nmFromM(plan(ahead(10, 14), 6).runsOutM!), entryNm(10) + (2 / 0.45) * 3, BY_HAND);
  });

  test('is nowhere when it lasts', () => {
    // 8.16 min at 0.45 are 3.67 L, with priming 7.67.
    expect(plan(ahead(10, 14), 7.7).runsOutM).toBeUndefined();
    expect(plan(ahead(10, 14), 7.6).runsOutM).toBeDefined();
    expect(plan(DRY, 0).runsOutM).toBeUndefined();
  });

  test('is at the entry when not even the panels can be primed', () => {
    assertClose(nmFromM(plan(ahead(10, 14), 3).runsOutM!), entryNm(10), BY_HAND);
  });
});

describe('what is left over', () => {
  // Needed 4 + 13.5 + 3.67 L; 58.83 L to spare, and a burst of 120 s at 1.8 L/min is 3.6 L: 16.3.
  test('gives so many whole bursts, and what is on board so much weight', () => {
    const { bursts, weightKg } = plan(ahead(10, 14));
    expect(bursts).toBe(16);
    assertClose(weightKg!, 88, BY_HAND);
    // Nothing is to spare where the fluid is short.
    expect(plan(ahead(10, 14), 20).bursts).toBeUndefined();
  });

  test('there is no plan without a fluid system', () => {
    const aircraft = makeAircraft('generic-boots-twin');
    const input = { ...CHANGE, aircraft, fluidOnBoardM3: undefined };
    expect(at(choose(DRY, input), 10000).fluidPlan).toBeUndefined();
  });
});
