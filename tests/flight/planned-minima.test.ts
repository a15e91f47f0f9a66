/** What is planned for beyond the trip: how low, how much in all, and how the alternate is left for. See planned.test.ts too. */
import { describe, expect, test } from 'vitest';
import { defaultPlanned } from '../../worker/flight/planned.ts';
import type { AlternateLeg, ChooseInput, Exposure, PlannedPart } from '../../worker/flight/types.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { choose, codesOf } from './choose.ts';
import { exposure, exposureIn } from './fly-curtain.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  makeAircraft,
  makeCurtain,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  type TestCell,
} from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
const BY_HAND_F32 = { abs: 1e-6, rel: 1e-6, why: 'by hand, columns are 32-bit' };
const MINUTE = 60;
const route = makeTestRoute();
const DESTINATION = route.pointCount - 1;
const PLANNED = defaultPlanned(0);
const there = (lowerFt: number, upperFt: number, cell: TestCell) =>
  layer(lowerFt, upperFt, cell, [DESTINATION, DESTINATION]);
const part = ({ planned: { parts } }: Exposure, wanted: PlannedPart) =>
  parts.find((each) => each.part === wanted)!;

describe('the hold and the minimum altitude', () => {
  const minimumAtEnd = (altitudeFt: number) => {
    const minimum = flatMinimum(route.pointCount, 3000);
    minimum.altitudeM[DESTINATION] = mFromFt(altitudeFt);
    return minimum;
  };
  const holdFt = (minimum: ChooseInput['minimum'], holdAltitudeFt = 5000) => {
    const planned = { ...PLANNED, holdAltitudeM: mFromFt(holdAltitudeFt) };
    return ftFromM(part(exposure(DRY, { planned, change: { minimum } }), 'hold').altitudeM!);
  };

  test('a hold asked for under a minimum of 8,000 ft at the last point is flown at 8,000 ft', () => {
    assertClose(holdFt(minimumAtEnd(8000)), 8000, BY_HAND);
    assertClose(holdFt(minimumAtEnd(8000), 9000), 9000, BY_HAND);
  });

  test('minima of other points, and an unknown one, leave it as it is', () => {
    const minimum = minimumAtEnd(3000);
    minimum.altitudeM[DESTINATION - 1] = mFromFt(8000);
    assertClose(holdFt(minimum), 5000, BY_HAND);
    assertClose(holdFt(minimumAtEnd(Number.NaN)), 5000, BY_HAND);
  });

  test('it meets the ice up there, not that of the altitude asked for', () => {
    const change = { minimum: minimumAtEnd(8000) };
    const icingS = (cellAt: CellAt) =>
      part(exposure(cellAt, { planned: PLANNED, change }), 'hold').icingS.high;
    expect(icingS(there(5000, 5500, LIGHT_ICE))).toBe(0);
    assertClose(icingS(there(8000, 8500, LIGHT_ICE)), 30 * MINUTE, BY_HAND);
  });
});

describe('moderate icing warned of at the destination alone', () => {
  // At 0-6,000 ft over the last point: approach, vectors, early descent and the default hold at 5,000 ft lie in it.
  test('at 0-6,000 ft is said of every altitude, none of which has no ice found', () => {
    const moderate = {
      id: 'A1',
      kind: 'warning',
      severity: 'moderate',
      sentence: 'AIRMET 1: moderate icing until 14:00 UTC',
      validFromMs: 0,
      validToMs: 1,
      issuedMs: 0,
      firstPoint: DESTINATION,
      lastPoint: DESTINATION,
      lowerM: 0,
      upperM: mFromFt(6000),
    } as const;
    const choice = choose(DRY, { hazards: [moderate] });
    const flown = choice.candidates.filter(({ exposure: each }) => each !== undefined);
    expect(new Set(flown.map(({ verdict }) => verdict))).toEqual(new Set(['within-limits']));
    expect(codesOf(choice.verdict.reasons)).toContain('reported-icing');
  });

  test('as ice of the model it is said where planned, with the time of all parts together', () => {
    const ice = there(0, 6000, { ...LIGHT_ICE, intensity: 3 });
    const choice = choose(ice, { candidateAltitudesM: [mFromFt(9000)] });
    expect(codesOf(choice.verdict.reasons)).toEqual(expect.arrayContaining(['icing', 'icing-where-planned']));
    // The hold 30 min, vectors 10, approach 10, and the last of three points of 5 min early descent.
    const { planned } = choice.considered!.exposure!;
    assertClose(planned.icingHighS / MINUTE, 50 + 5 / 3, { abs: 1e-6, why: 'by hand' });
  });
});

describe('high estimates of all parts together, draw by draw', () => {
  /** Severe icing over the destination in some draws of ten in the cell of the hold, in some in those of the approach. */
  const withDraws = (holdDraws: readonly number[], approachDraws: readonly number[]) => {
    const curtain = makeCurtain(route.pointCount, there(0, 5500, { ...LIGHT_ICE, intensity: 4 }));
    const { cellCount } = curtain.icing.axis;
    const { drawCount, marks, growthMps } = curtain.drawn;
    for (let cell = 0; cell <= 10; cell += 1) {
      const wanted = cell === 10 ? holdDraws : cell < 6 ? approachDraws : [];
      const first = (DESTINATION * cellCount + cell) * drawCount;
      const icy = marks[(DESTINATION * cellCount + cell) * drawCount]!;
      for (let draw = 0; draw < drawCount; draw += 1) {
        marks[first + draw] = wanted.includes(draw) ? icy : 0;
        growthMps[first + draw] = wanted.includes(draw) ? growthMps[first]! : 0;
      }
    }
    const planned = { ...NOTHING_PLANNED, approachS: 600, holdS: 1800 };
    return exposureIn(curtain, { planned, cruiseFt: 10000 }).planned;
  };

  // The high estimate of ten draws is the ninth: of one draw with ice it is none, of two it is the lesser.
  test('ice in one draw of the hold and in another of the approach is some in two draws', () => {
    const apart = withDraws([0], [1]);
    assertClose(apart.icingHighS, 600, BY_HAND);
    assertClose(apart.severeHighS, 600, BY_HAND);
    const together = withDraws([0], [0]);
    expect([together.icingHighS, together.severeHighS]).toEqual([0, 0]);
  });

  test('in two draws of both it is that of both in each', () => {
    const both = withDraws([0, 1], [0, 1]);
    assertClose(both.icingHighS, 2400, BY_HAND);
    assertClose(both.severeHighS, 2400, BY_HAND);
  });

  test('in two draws of the hold and two others of the approach it is not the sum', () => {
    const apart = withDraws([0, 1], [2, 3]);
    // 1,800, 1,800, 600, 600 and six without: the ninth of ten has 1,800.
    assertClose(apart.icingHighS, 1800, BY_HAND);
    assertClose(apart.severeHighS, 1800, BY_HAND);
  });
});

describe('the alternate after the ice of approach and hold', () => {
  const alternateRoute = makeTestRoute(60);
  const leg = (cellAt: CellAt, minimumFt = 3000): AlternateLeg => ({
    name: 'CCCC',
    route: alternateRoute,
    ...makeCurtain(alternateRoute.pointCount, cellAt),
    minimum: flatMinimum(alternateRoute.pointCount, minimumFt),
  });
  const iceAtTheEnd = there(5000, 5500, LIGHT_ICE);
  const alternate = (cellAt: CellAt, change: Partial<ChooseInput>, planned = PLANNED) =>
    part(exposure(cellAt, { planned, aircraft: change.aircraft ?? ROUND_AIRCRAFT, change }), 'alternate');

  // 30 min of hold at 0.3 mm/min in nine draws of ten: 9 mm.
  test('is flown no higher than the ceiling with ice once a millimeter is on', () => {
    const aircraft = { ...ROUND_AIRCRAFT, icedCeilingM: mFromFt(5000) };
    const to = (cellAt: CellAt, minimumFt: number) =>
      alternate(cellAt, { aircraft, alternate: leg(DRY, minimumFt) });
    assertClose(ftFromM(to(iceAtTheEnd, 5000).altitudeM!), 5000, BY_HAND);
    const over = to(iceAtTheEnd, 5500);
    expect(over.altitudeM).toBeUndefined();
    assertClose(over.unknownS, over.durationS, BY_HAND);
    assertClose(ftFromM(to(DRY, 5500).altitudeM!), 6000, BY_HAND);
  });

  // Up 3,000 ft at 1,000 ft/min less 27 % for 9 mm: 4.1 min instead of 3.
  test('climbs with that ice', () => {
    const iceLoss = { airspeedPerM: 0, climbRatePerM: 30, fuelFlowGainPerM: 0 };
    const aircraft = { ...ROUND_AIRCRAFT, iceLoss };
    const minutes = (cellAt: CellAt) =>
      alternate(cellAt, { aircraft, alternate: leg(DRY) }).durationS / MINUTE;
    const climbMin = 3 / 0.73;
    // 60 NM less 2 NM a minute of climb and 15 NM of descent, at 3 NM a minute, and 6 min down.
    assertClose(minutes(iceAtTheEnd), climbMin + (45 - 2 * climbMin) / 3 + 6, BY_HAND_F32);
    assertClose(minutes(DRY), 22, BY_HAND_F32);
  });

  // 55 min at 0.64 mm/min are 35 mm; at 5 % a millimeter nothing is left of the climb from 20 on.
  test('a piston twin with 35 mm on has none that it can reach: unknown all along, never left out', () => {
    const aircraft = makeAircraft('generic-piston-twin');
    const heavy = there(0, 5500, { ...LIGHT_ICE, growthMmPerMin: 0.64 });
    const planned = { ...NOTHING_PLANNED, vectorsS: 25 * MINUTE, holdS: 30 * MINUTE };
    const found = exposure(heavy, { planned, aircraft, change: { aircraft, alternate: leg(DRY) } });
    expect(found.builtAtLandingM.high * 1000).toBeGreaterThan(35);
    expect(part(found, 'alternate').altitudeM).toBeUndefined();
    assertClose(part(found, 'alternate').unknownS, part(found, 'alternate').durationS, BY_HAND);
    expect(found.planned.unknownS).toBeGreaterThan(0);
  });
});
