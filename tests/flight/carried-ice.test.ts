/** Ice on the aeroplane at one time and another, and what it leaves of climb and speed. Worked out by hand. */
import { describe, expect, test } from 'vitest';
import { aircraftFromProfile } from '../../worker/flight/aircraft.ts';
import { findBuiltInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { exposureAt } from '../../worker/flight/exposure.ts';
import { makeFlightPath } from '../../worker/flight/flight-path.ts';
import { flyPlanned } from '../../worker/flight/planned.ts';
import { NO_WIND } from '../../worker/flight/timing.ts';
import type { Aircraft, ChooseInput, Exposure } from '../../worker/flight/types.ts';
import { makeEnvelopeWindows } from '../../worker/science/envelope-windows.ts';
import { mFromFt, mFromNm, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { at, choose, codesOf } from './choose.ts';
import { exposure } from './fly-curtain.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  makeChooseInput,
  makeCurtain,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  type TestCell,
} from './make-curtain.ts';

const BY_HAND_F32 = { abs: 1e-9, rel: 1e-6, why: 'by hand, columns are 32-bit' };
const MM = 0.001;
const FT_PER_MIN = mFromFt(1) / 60;
const SURE_ICE: TestCell = { ...LIGHT_ICE, icingProbability: 1 };
const route = makeTestRoute();
const DESTINATION = route.pointCount - 1;
/** Loses 3 % of climb a millimeter, a tenth with the separator, and no speed, so that times stay as they are. */
const CLIMBS_LESS: Aircraft = {
  ...ROUND_AIRCRAFT,
  iceLoss: { airspeedPerM: 0, climbRatePerM: 30, fuelFlowGainPerM: 0 },
  separator: { airspeedLoss: 0, climbRateLoss: 0.1, fuelFlowGain: 0 },
};
const only = (altitudeFt: number): Partial<ChooseInput> => ({
  aircraft: ROUND_AIRCRAFT,
  planned: NOTHING_PLANNED,
  candidateAltitudesM: [mFromFt(altitudeFt)],
});

describe('ice by the end of the approach', () => {
  const planned = { ...NOTHING_PLANNED, vectorsS: 600, approachS: 600, holdS: 1800 };
  // Over the destination 0.3 mm/min from the ground to 5,500 ft: vectors 3 mm, approach 3 mm, hold 9 mm; the descent passes
  // that column in half a stretch of 4.89 NM, 58.7 s at 150 kt: 0.29 mm.
  test('counts trip, vectors and approach with what was left at lift-off, and no hold', () => {
    const ice = layer(0, 5500, SURE_ICE, [DESTINATION, DESTINATION]);
    const found = exposure(ice, { planned, residualIceM: 2 * MM });
    const halfStretchMin = route.distanceM[1]! / 2 / mpsFromKt(150) / 60;
    const tripMm = 0.3 * halfStretchMin;
    assertClose(found.builtM.high * 1000, tripMm, BY_HAND_F32);
    assertClose(found.builtOnApproachM.high * 1000, 2 + tripMm + 6, BY_HAND_F32);
    assertClose(found.builtAtLandingM.high * 1000, 2 + tripMm + 15, BY_HAND_F32);
    expect(found.builtAloftM.high).toBe(0);
  });
});

describe('the climb left', () => {
  // 2,000 ft of ice at 0.6 mm/min and 1,000 ft/min: 1.2 mm in two minutes, with what ice takes from the climb a little more.
  test('at the cruise is that with the ice of the climb and the separator on, none told under a millimeter', () => {
    const aircraft = { ...ROUND_AIRCRAFT, separator: CLIMBS_LESS.separator };
    const left = (growthMmPerMin: number, residualIceM = 0) =>
      exposure(layer(5000, 7000, { icingProbability: 1, growthMmPerMin }), { aircraft, residualIceM })
        .climbLeftMps;
    assertClose(left(0.6) / FT_PER_MIN, 900, BY_HAND_F32);
    expect(left(0.4)).toBe(Number.POSITIVE_INFINITY);
    assertClose(left(0.4, 0.3 * MM) / FT_PER_MIN, 900, BY_HAND_F32);
  });

  // 10 mm at lift-off take 30 %, the separator a tenth of the rest: 630 ft/min.
  test('counts ice left at lift-off, at cruise and on the missed approach', () => {
    const { climbLeftMps, missedClimbMps } = exposure(() => ({}), {
      aircraft: CLIMBS_LESS,
      residualIceM: 10 * MM,
    });
    assertClose(climbLeftMps / FT_PER_MIN, 630, BY_HAND_F32);
    assertClose(missedClimbMps / FT_PER_MIN, 630, BY_HAND_F32);
  });

  // 10 min of vectors at 1 mm/min: 10 mm.
  test('on the missed approach counts the ice of vectors and approach, that of the hold does not count', () => {
    const ice = layer(3000, 3500, { ...SURE_ICE, growthMmPerMin: 1 }, [DESTINATION, DESTINATION]);
    const missed = (planned: object) =>
      exposure(ice, { aircraft: CLIMBS_LESS, planned: { ...NOTHING_PLANNED, ...planned } }).missedClimbMps;
    assertClose(missed({ vectorsS: 600 }) / FT_PER_MIN, 630, BY_HAND_F32);
    expect(missed({ holdS: 1800, holdAltitudeM: mFromFt(3000) })).toBe(Number.POSITIVE_INFINITY);
  });

  // At 6 % a millimeter 15 mm leave 10 % of 1,000 ft/min.
  test('under 100 ft/min on the missed approach is outside limits', () => {
    const ice = layer(3000, 3500, { ...SURE_ICE, growthMmPerMin: 1 }, [DESTINATION, DESTINATION]);
    const iceLoss = { airspeedPerM: 0, climbRatePerM: 60, fuelFlowGainPerM: 0 };
    const with_ = (vectorsMin: number) =>
      at(
        choose(ice, {
          ...only(9000),
          aircraft: { ...ROUND_AIRCRAFT, iceLoss },
          planned: { ...NOTHING_PLANNED, vectorsS: vectorsMin * 60 },
        }),
        9000,
      );
    expect(codesOf(with_(14).reasons)).not.toContain('missed-approach-not-climbed');
    expect(with_(15.5).verdict).toBe('outside-limits');
    expect(codesOf(with_(15.5).reasons)).toContain('missed-approach-not-climbed');
  });
});

describe('icing airspeed on top', () => {
  // At 10,000 ft and the standard -4.81 degC the root of the density ratio is 0.85936 (standard atmosphere), and 15 mm leave 85 %:
  // 161.54 kt true are 118 indicated.
  test('on top with 15 mm on, 118 kt are less than the 120 asked for', () => {
    const aircraft: Aircraft = {
      ...ROUND_AIRCRAFT,
      trueAirspeedMps: { pressureAltitudeM: [0], value: [mpsFromKt(161.54)] },
      iceLoss: { airspeedPerM: 10, climbRatePerM: 0, fuelFlowGainPerM: 0 },
      minimumIcingAirspeedMps: mpsFromKt(120),
    };
    const cold = { temperatureC: -4.812 };
    const onTop = exposure(() => cold, { aircraft, residualIceM: 15 * MM });
    assertClose(onTop.leastIcingAirspeedMps / mpsFromKt(1), 118, {
      abs: 0.02,
      why: 'four digits of the ratio',
    });
    const choice = choose(() => cold, { ...only(10000), aircraft, residualIceM: 15 * MM });
    expect(codesOf(at(choice, 10000).reasons)).toContain('icing-speed-not-held');
    const clean = choose(() => cold, { ...only(10000), aircraft });
    expect(clean.verdict.code).toBe('no-ice-found');
  });

  test('is judged on level steps alone, not while an altitude is changed', () => {
    const descentOnly = layer(3000, 6000, SURE_ICE, [30, DESTINATION]);
    expect(exposure(descentOnly).leastIcingAirspeedMps).toBe(Number.POSITIVE_INFINITY);
  });
});

/** What a flight of several levels meets, each from a place on, in nautical miles, and at an altitude, ft. */
function stepped(
  cellAt: CellAt,
  flight: {
    readonly lengthNm: number;
    readonly aircraft: Aircraft;
    readonly levels: readonly (readonly [number, number])[];
  },
): Exposure {
  const { aircraft } = flight;
  const along = makeTestRoute(flight.lengthNm);
  const curtain = makeCurtain(along.pointCount, cellAt);
  const facts = makeCellFacts(curtain);
  const path = makeFlightPath({
    route: along,
    aircraft,
    windAt: NO_WIND,
    layout: curtain.icing.axis,
    levels: flight.levels.map(([fromNm, altitudeFt]) => ({
      fromM: mFromNm(fromNm),
      pressureAltitudeM: mFromFt(altitudeFt),
    })),
    departurePressureAltitudeM: 0,
    destinationPressureAltitudeM: 0,
    facts,
  });
  if (path.kind !== 'path') throw new Error(path.kind);
  const input = makeChooseInput(DRY, { route: along, ...curtain, aircraft, planned: NOTHING_PLANNED });
  return exposureAt({
    aircraft,
    path,
    ...curtain,
    facts,
    planned: flyPlanned(input, facts),
    windows: makeEnvelopeWindows(along.distanceM),
    residualIceM: 0,
  });
}

describe('changes of altitude on the way', () => {
  // From 250 NM on down through 1.2 mm/min between 18,000 and 10,000 ft: 8,000 ft at 500 ft/min are 16 min, 19.2 mm on the
  // aeroplane for the second half.
  test('500 NM stepped from 19,000 to 9,000 ft through 1.2 mm/min: the ice is carried aloft', () => {
    const found = stepped(layer(10000, 18000, { ...SURE_ICE, growthMmPerMin: 1.2 }, [45, 70]), {
      lengthNm: 500,
      aircraft: ROUND_AIRCRAFT,
      levels: [
        [0, 19000],
        [250, 9000],
      ],
    });
    assertClose(found.builtAloftM.high * 1000, 19.2, BY_HAND_F32);
    assertClose(found.icingHighByPhaseS.cruise, 16 * 60, BY_HAND_F32);
    expect(found.icingHighByPhaseS.descent).toBe(0);
    expect(found.leastIcingAirspeedMps).toBeLessThan(Number.POSITIVE_INFINITY);
  });

  // Ice over the first eleven points, to 50.8 NM: 40.8 NM at 5,000 ft and 180 kt are 13.6 min, 15 mm at 1.1 mm/min. At 6 % a
  // millimeter a tenth of 1,000 ft/min is left, 92 with the separator. On average nine tenths of that ice leave 190: it is flown.
  test('a step up counts the ice that was gathered before it', () => {
    const iceLoss = { airspeedPerM: 0, climbRatePerM: 60, fuelFlowGainPerM: 0 };
    const { climbLeftMps } = stepped(layer(5000, 5500, { ...LIGHT_ICE, growthMmPerMin: 1.1 }, [0, 10]), {
      lengthNm: 300,
      aircraft: { ...ROUND_AIRCRAFT, iceLoss, separator: CLIMBS_LESS.separator },
      levels: [
        [0, 5000],
        [60, 9000],
      ],
    });
    expect(climbLeftMps / FT_PER_MIN).toBeLessThan(100);
  });
});

describe('what is said of a climb that ice takes', () => {
  // 14.9 mm at 6 % a millimeter leave 106 ft/min, 95 with the separator: flown, and outside limits.
  test('names the ice that takes it, that left at lift-off included', () => {
    const iceLoss = { airspeedPerM: 0, climbRatePerM: 60, fuelFlowGainPerM: 0 };
    const aircraft = { ...ROUND_AIRCRAFT, iceLoss, separator: CLIMBS_LESS.separator };
    const choice = choose(DRY, { ...only(5000), aircraft, residualIceM: 14.9 * MM });
    const said = at(choice, 5000).reasons.find(({ code }) => code === 'climb-not-held');
    expect(said?.sentence).toMatch(/^With up to 15 mm of ice only 90 ft\/min/);
  });
});

describe('a profile that does not say what it holds in ice', () => {
  // Without an iced ceiling 17,500 ft are taken of 25,000; without a minimum airspeed 5 mm leave the verdict unknown.
  test('at 21,000 ft over a deck climbed through is outside limits, at 13,000 ft with 5 mm unknown', () => {
    const {
      icedCeilingFt: _ceiling,
      minimumIcingAirspeedKt: _speed,
      ...bare
    } = findBuiltInAircraft('generic-fluid-turboprop')!;
    const aircraft = aircraftFromProfile(bare);
    const change = {
      aircraft,
      planned: NOTHING_PLANNED,
      minimum: flatMinimum(makeTestRoute(400).pointCount, 3000),
      route: makeTestRoute(400),
      candidateAltitudesM: [13000, 21000].map(mFromFt),
    };
    // The climb through 9,000 ft takes 13 min and a little: 4 mm at 0.3 mm/min, 8 at 0.6.
    const deck = (growthMmPerMin: number) => choose(layer(0, 9000, { ...LIGHT_ICE, growthMmPerMin }), change);
    expect(codesOf(at(deck(0.3), 21000).reasons)).toContain('iced-ceiling');
    expect(at(deck(0.3), 13000).verdict).toBe('within-limits');
    expect(codesOf(at(deck(0.6), 13000).reasons)).toContain('icing-speed-not-given');
    expect(at(deck(0.6), 13000).verdict).toBe('unknown');
    const none = { ...aircraft, minimumIcingAirspeedMps: 0 };
    const told = choose(layer(0, 9000, { ...LIGHT_ICE, growthMmPerMin: 0.6 }), { ...change, aircraft: none });
    expect(codesOf(at(told, 13000).reasons)).not.toContain('icing-speed-not-given');
  });
});
