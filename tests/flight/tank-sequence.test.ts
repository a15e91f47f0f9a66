/** What one leg leaves for the next: fluid, ice, and the altitude of a leg that others follow. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import { defaultPlanned } from '../../worker/flight/planned.ts';
import {
  chooseInSequence,
  type FluidState,
  fluidAfter,
  fluidAtFirst,
  groundTemperatureK,
  iceAfterM,
  iceAfterStopM,
  leftM3,
  legFluidM3,
  refilled,
  thriftyCandidate,
} from '../../worker/flight/tank-sequence.ts';
import type { Aircraft } from '../../worker/flight/types.ts';
import { gravityOf } from '../../worker/flight/verdict-rules.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import {
  type CellAt,
  DRY,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeChooseInput,
  makeCurtain,
  makeTestRoute,
  ROUND_AIRCRAFT,
  type TestCell,
  UNKNOWN,
} from './make-curtain.ts';

const L = 0.001;
const known = (liters: number): FluidState => ({ kind: 'known', volumeM3: liters * L });
const spread = (low: number, middle: number, high: number) => ({
  low: low * L,
  middle: middle * L,
  high: high * L,
});
const UNPROTECTED: Aircraft = { ...ROUND_AIRCRAFT, protection: { kind: 'none' } };
/** With 1 mm at lift-off that is counted in what is on the wing after the approach. */
const exposed = (builtMm: number, onApproachUnknownS = 0) => ({
  builtOnApproachM: { low: 0.001, middle: 0.001, high: 0.001 + builtMm / 1000 },
  residualIceM: 0.001,
  onApproachUnknownS,
});
const FREEZING_K = 273.15;
const stop = (temperatureC: number, hours = 1) => ({
  isDeiced: false,
  stayS: hours * 3600,
  arrivalTemperatureK: FREEZING_K + temperatureC,
  departureTemperatureK: FREEZING_K + temperatureC,
});

describe('fluid from leg to leg', () => {
  it('fluidAfter takes the high estimate of the trip, and never leaves less than nothing', () => {
    expect(fluidAfter(known(40), spread(5, 10, 20))).toEqual(known(20));
    expect(fluidAfter(known(15), spread(5, 10, 20))).toEqual(known(0));
  });

  // 45 L with 10 L taken at most leave 35; the minimum is 40. Of those 10 unknown air may have taken 6, or 4.
  it('fluidAfter does not know what is left where unknown air alone decides on the dispatch minimum', () => {
    const left = (unknownAirL: number) =>
      fluidAfter({ kind: 'known', volumeM3: 45 * L }, spread(0, 5, 10), {
        unknownAirM3: unknownAirL * L,
        minimumDispatchM3: 40 * L,
      });
    expect(left(6)).toEqual({ kind: 'unknown' });
    expect(left(4)).toEqual({ kind: 'known', volumeM3: 45 * L - 10 * L });
  });

  it('fluidAfter does not know what is left after a leg that nobody could fly', () => {
    expect(fluidAfter(known(40), undefined)).toEqual({ kind: 'unknown' });
  });

  it('fluidAfter grants no dispatch minimum once a leg has used of a quantity that was not given', () => {
    expect(fluidAfter({ kind: 'not-given' }, spread(0, 0, 3))).toEqual({ kind: 'unknown' });
    expect(fluidAfter({ kind: 'not-given' }, spread(0, 0, 0))).toEqual({ kind: 'not-given' });
    expect(fluidAfter({ kind: 'unknown' }, spread(0, 0, 0))).toEqual({ kind: 'unknown' });
  });

  it('refilled fills up to a quantity, makes an unknown one known, and takes nothing out', () => {
    expect(refilled(known(10), 60 * L)).toEqual(known(60));
    expect(refilled(known(70), 60 * L)).toEqual(known(70));
    expect(refilled({ kind: 'unknown' }, 60 * L)).toEqual(known(60));
    expect(refilled({ kind: 'unknown' }, undefined)).toEqual({ kind: 'unknown' });
  });

  it('an aeroplane without a fluid system has no fluid to carry, whatever is given or filled in', () => {
    expect(fluidAtFirst(UNPROTECTED, 40 * L)).toEqual({ kind: 'none' });
    expect(refilled({ kind: 'none' }, 60 * L)).toEqual({ kind: 'none' });
    expect(fluidAfter({ kind: 'none' }, undefined)).toEqual({ kind: 'none' });
    expect(legFluidM3(UNPROTECTED, { fluidOnApproachM3: spread(0, 0, 0) })).toBeUndefined();
  });

  it('legFluidM3 is what trip and approach take from the tank', () => {
    expect(legFluidM3(ROUND_AIRCRAFT, { fluidOnApproachM3: spread(0, 4, 9) })).toEqual(spread(0, 4, 9));
  });

  it('leftM3 is ordered low to high: most used leaves least', () => {
    const left = leftM3(30 * L, spread(5, 10, 40));
    expect(left.low).toBe(0);
    assertClose(left.middle, 20 * L, { abs: 1e-12, why: 'subtraction' });
    assertClose(left.high, 25 * L, { abs: 1e-12, why: 'subtraction' });
  });
});

describe('ice from leg to leg', () => {
  it('iceAfterM adds the high estimate of what is built to what was there', () => {
    assertClose(iceAfterM(0.002, exposed(3))!, 0.005, { abs: 1e-12, why: 'sum' });
  });

  // 10 min of vectors at 3,000 ft and 5 min over the last points, at 0.3 mm/min and 0.45 L/min, with 4 L of priming; the hold is
  // not flown on every flight. The approach spends a sixth of its 10 min in the cell at 3,000 ft.
  it('ice and fluid of vectors, approach and early descent are carried on, and those of the hold are not', () => {
    const over = (cell: TestCell) =>
      chooseAltitude(
        makeChooseInput(layer(3000, 3500, cell), {
          aircraft: ROUND_AIRCRAFT,
          candidateAltitudesM: [mFromFt(10000)],
          planned: { ...defaultPlanned(0), holdAltitudeM: mFromFt(3000) },
        }),
      ).considered!.exposure!;
    const { fluidTripM3, builtM, ...iced } = over(LIGHT_ICE);
    const moreL = (iced.fluidOnApproachM3.high - fluidTripM3.high) / L;
    assertClose(moreL, 0.45 * 15, { abs: 1e-6, why: 'early descent and vectors' });
    assertClose(iceAfterM(0, iced)! - builtM.high, 0.3e-3 * 15, { abs: 1e-8, why: 'the same, in ice' });
    const unknown = over(UNKNOWN);
    expect(unknown.unknownS).toBeGreaterThan(0);
    expect(iceAfterM(0, unknown)).toBeUndefined();
  });

  it('iceAfterM is unknown where only the approach leads through unknown air', () => {
    const last = makeTestRoute().pointCount - 1;
    // Beside the descent path, in the way of the early descent alone.
    const { unknownS, onApproachUnknownS, ...exposure } = chooseAltitude(
      makeChooseInput(layer(4000, 4500, UNKNOWN, [last - 2, last - 1]), {
        candidateAltitudesM: [mFromFt(10000)],
        planned: { ...defaultPlanned(0), approachAltitudeM: mFromFt(4000) },
      }),
    ).considered!.exposure!;
    expect([unknownS, onApproachUnknownS > 0]).toEqual([0, true]);
    expect(iceAfterM(0, { ...exposure, onApproachUnknownS })).toBeUndefined();
    expect(fluidAfter({ kind: 'not-given' }, exposure.fluidOnApproachM3).kind).toBe('unknown');
  });

  it('iceAfterM is unknown after unknown air, after a leg nobody could fly, and when it was unknown before', () => {
    expect(iceAfterM(0, exposed(0, 60))).toBeUndefined();
    expect(iceAfterM(0, undefined)).toBeUndefined();
    expect(iceAfterM(undefined, exposed(0))).toBeUndefined();
  });

  it('iceAfterStopM: de-icing takes all of it, known or not', () => {
    expect(iceAfterStopM(0.01, { ...stop(-10), isDeiced: true })).toBe(0);
    expect(iceAfterStopM(undefined, { ...stop(-10), isDeiced: true })).toBe(0);
  });

  it('iceAfterStopM: nothing melts in the cold, near freezing, or where either temperature is unknown', () => {
    const iceM = 0.004;
    expect(iceAfterStopM(iceM, stop(-10, 48))).toBe(iceM);
    expect(iceAfterStopM(iceM, stop(2.9, 48))).toBe(iceM);
    expect(iceAfterStopM(iceM, { ...stop(15, 48), arrivalTemperatureK: Number.NaN })).toBe(iceM);
    expect(iceAfterStopM(iceM, { ...stop(15, 48), departureTemperatureK: Number.NaN })).toBe(iceM);
    expect(iceAfterStopM(undefined, stop(15, 48))).toBeUndefined();
  });

  it('iceAfterStopM: a millimeter melts in about two hours at +7 °C, by the colder end of the stop', () => {
    // C: 10 W/m2/K x 4 K x 7200 s = 288 kJ/m2; over 880 kg/m3 x 334.64 kJ/kg = 294.5 MJ/m3: 0.978 mm.
    const leftM = iceAfterStopM(0.004, { ...stop(7, 2), departureTemperatureK: FREEZING_K + 20 })!;
    assertClose(leftM, 0.004 - 0.000978, { abs: 5e-6, why: 'worked by hand' });
    expect(iceAfterStopM(0.0005, stop(7, 2))).toBe(0);
  });

  it('iceAfterStopM never adds ice, and more ice before never leaves less after', () => {
    const ice = fc.double({ min: 0, max: 0.05, noNaN: true });
    const ends = fc.tuple(
      fc.double({ min: -40, max: 40, noNaN: true }),
      fc.double({ min: 0, max: 48, noNaN: true }),
    );
    fc.assert(
      fc.property(ice, ice, ends, (one, other, [temperatureC, hours]) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        const remainingM = (iceM: number) => iceAfterStopM(iceM, stop(temperatureC, hours))!;
        expect(remainingM(more)).toBeLessThanOrEqual(more);
        expect(remainingM(less)).toBeLessThanOrEqual(remainingM(more));
      }),
      { seed: 41 },
    );
  });
});

describe('groundTemperatureK', () => {
  const { weather } = makeChooseInput(DRY);
  const at = (state: readonly number[]) => {
    const copy = { ...weather, state: weather.state.slice(), temperatureK: weather.temperatureK.slice() };
    state.forEach((code, cell) => {
      copy.state[cell] = code;
      copy.temperatureK[cell] = 280 + cell;
    });
    return groundTemperatureK(copy, 0, weather.axis.lowestM + 1);
  };

  it('is that of the lowest air above the ground', () => {
    expect(at([CELL_STATE.belowGround, CELL_STATE.belowGround, CELL_STATE.known])).toBe(282);
  });

  it('is unknown where the lowest air is, though air above it is known', () => {
    expect(at([CELL_STATE.belowGround, CELL_STATE.outsideProfile, CELL_STATE.known])).toBeNaN();
  });
});

describe('thriftyCandidate', () => {
  const chosen = (fluidL: number) =>
    chooseAltitude(
      makeChooseInput((_point, middleFt) => (middleFt > 4000 && middleFt < 6500 ? LIGHT_ICE : {}), {
        fluidOnBoardM3: fluidL * L,
        candidateAltitudesM: [3000, 5000, 8000].map(mFromFt),
        aircraft: ROUND_AIRCRAFT,
      }),
    );

  it('is of the best verdict, and uses hardly more fluid than any other of that verdict', () => {
    const choice = chosen(1000);
    const pick = thriftyCandidate(choice, ROUND_AIRCRAFT)!;
    const tripL = (each: typeof pick) => legFluidM3(ROUND_AIRCRAFT, each.exposure!)!.high / L;
    expect(pick.verdict).toBe(choice.verdict.code);
    for (const each of choice.candidates) {
      if (each.exposure === undefined || each.verdict !== pick.verdict) continue;
      expect(tripL(pick)).toBeLessThanOrEqual(tripL(each) + 2);
    }
  });

  it('is the least bad altitude when none is within limits, and none when none can be flown', () => {
    const choice = chosen(0);
    const outside = {
      ...choice,
      candidates: choice.candidates.map((each) => ({ ...each, verdict: 'outside-limits' as const })),
    };
    expect(thriftyCandidate(outside, ROUND_AIRCRAFT)?.rank).toBe(1);
    expect(thriftyCandidate({ ...choice, candidates: [] }, ROUND_AIRCRAFT)).toBeUndefined();
  });
});

describe('chooseInSequence', () => {
  const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(500), cellCount: 20 });
  const route = makeTestRoute(150);
  const candidateAltitudesM = [3000, 4000, 5000, 6000, 7000].map(mFromFt);
  /** Moist below freezing, and no ice: it takes fluid and nothing else. */
  const MOIST: TestCell = { cloudProbability: 0.9 };
  /** Each thousand feet dry, moist or icy up to a point of its own: little ice may go with much fluid. */
  const sky = fc
    .array(fc.tuple(fc.constantFrom<TestCell>(MOIST, LIGHT_ICE, MODERATE_ICE), fc.nat({ max: 40 })), {
      minLength: 10,
      maxLength: 10,
    })
    .map(
      (layers): CellAt =>
        (point, middleFt) => {
          const [cell, lastPoint] = layers[Math.min(9, Math.round(middleFt / 1000))]!;
          return point <= lastPoint ? cell : {};
        },
    );
  const flown = (skies: readonly CellAt[], fluidL: number) => {
    let fluid: FluidState = known(fluidL);
    return skies.map((cellAt, leg) => {
      if (fluid.kind !== 'known') throw new Error('the quantity is given and every altitude can be flown');
      const startM3 = fluid.volumeM3;
      const choice = chooseInSequence(
        {
          ...makeChooseInput(DRY, {
            route,
            candidateAltitudesM,
            aircraft: ROUND_AIRCRAFT,
            fluidOnBoardM3: startM3,
          }),
          ...makeCurtain(route.pointCount, cellAt, axis),
        },
        leg === skies.length - 1,
      );
      const best = choice.considered!;
      fluid = fluidAfter(fluid, legFluidM3(ROUND_AIRCRAFT, best.exposure!));
      return { gravity: gravityOf(choice.verdict.code), startM3 };
    });
  };

  it('with less fluid at the start no leg has a better verdict, or more fluid', () => {
    const gravities = new Set<number>();
    const liters = fc.integer({ min: 0, max: 80 });
    fc.assert(
      fc.property(fc.tuple(sky, sky, sky), liters, liters, (skies, one, other) => {
        const withLess = flown(skies, Math.min(one, other));
        const withMore = flown(skies, Math.max(one, other));
        for (const [leg, less] of withLess.entries()) {
          gravities.add(less.gravity);
          expect(less.gravity).toBeGreaterThanOrEqual(withMore[leg]!.gravity);
          expect(less.startM3).toBeLessThanOrEqual(withMore[leg]!.startM3 + 1e-12);
        }
      }),
      { seed: 1141, numRuns: 100 },
    );
    expect(gravities.size).toBeGreaterThanOrEqual(2);
  });
});
