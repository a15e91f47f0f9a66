/** Limits of the aeroplane and of the rules in the choice: oxygen, the ceiling and speed with ice, direction, the way out. */
import { describe, expect, test } from 'vitest';
import type { ChooseInput } from '../../worker/flight/types.ts';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { ftFromM, mFromFt, mFromNm, mpsFromKt } from '../../worker/science/units.ts';
import { at, choose, codesOf, filed, ftOf } from './choose.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeAircraft,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const route = makeTestRoute();
const DESTINATION = route.pointCount - 1;
const only = (...altitudesFt: readonly number[]): Partial<ChooseInput> => ({
  aircraft: ROUND_AIRCRAFT,
  candidateAltitudesM: altitudesFt.map(mFromFt),
  planned: NOTHING_PLANNED,
});

describe('chooseAltitude and oxygen', () => {
  const without = (rule: ChooseInput['oxygenRule'], oxygen: 'none' | 'on-board' | 'pressurized' = 'none') =>
    choose(DRY, {
      ...only(9000, 10000, 11000, 12000, 13000, 15000),
      aircraft: { ...ROUND_AIRCRAFT, oxygen },
      oxygenRule: rule,
    });
  const refused = (choice: ReturnType<typeof choose>) =>
    choice.candidates
      .filter(({ standing }) => standing === 'needs-oxygen')
      .map((each) => ftOf(each.indicatedAltitudeM));

  // Over 186 NM the cruise alone takes more than half an hour at each of them.
  test('without it no altitude is flown at which 135.89 asks for it', () => {
    const choice = without(undefined);
    expect(refused(choice)).toEqual([15000, 13000, 12000, 11000]);
    expect(at(choice, 11000)).toMatchObject({
      verdict: 'unknown',
      exposure: undefined,
      inWords: 'needs oxygen, and none is on board',
    });
    expect(at(choice, 11000).reasons[0]?.sentence).toBe(
      'Needs oxygen, and none is on board (14 CFR 135.89(a))',
    );
  });

  // At 13,000 ft 95 NM of cruise take 31.7 min, and half a minute up and one down are above 12,500 ft as well.
  test('91.211 asks for it from 12,500 ft on after half an hour, from 14,000 ft at once', () => {
    expect(refused(without('14 CFR 91.211(a)'))).toEqual([15000, 13000]);
  });

  test('a shorter stay below the upper limit needs none', () => {
    // 160 NM: at 11,000 ft 77 NM from climb and descent, 83 NM of cruise are 27.7 min, and 1 and 2 min above 10,000 ft: 30.7.
    // 150 NM: 24.3 min and 3.
    const stay = (lengthNm: number) =>
      refused(
        choose(DRY, {
          ...only(11000),
          aircraft: { ...ROUND_AIRCRAFT, oxygen: 'none' },
          route: makeTestRoute(lengthNm),
        }),
      );
    expect([stay(160), stay(150)]).toEqual([[11000], []]);
  });

  // 166 NM at 13,000 ft: 75 NM of cruise are 25 min; above 12,500 ft 26.5 min, above 10,000 ft 34.
  test('91.211 counts the time above 12,500 ft, not above 10,000', () => {
    const change = { ...only(13000), route: makeTestRoute(166), oxygenRule: '14 CFR 91.211(a)' as const };
    const aircraft = { ...ROUND_AIRCRAFT, oxygen: 'none' as const };
    expect(refused(choose(DRY, { ...change, aircraft }))).toEqual([]);
  });

  test('with it, or in a pressurized cabin, none is refused', () => {
    expect(refused(without(undefined, 'on-board'))).toEqual([]);
    expect(refused(without(undefined, 'pressurized'))).toEqual([]);
  });

  test('a pressurized cabin is told nothing of oxygen', () => {
    const choice = choose(layer(0, 9000, LIGHT_ICE), {
      aircraft: makeAircraft('generic-boots-twin'),
      fluidOnBoardM3: undefined,
    });
    expect(codesOf(choice.operational)).not.toContain('oxygen');
    expect(filed(choice)!.accept[1]).toBeGreaterThan(12000);
    expect(choice.file!.acceptReason).not.toMatch(/oxygen/);
  });
});

describe('chooseAltitude and the aeroplane with ice', () => {
  test('an altitude above the ceiling with ice is outside limits where the climb leads through ice', () => {
    const aircraft = { ...ROUND_AIRCRAFT, icedCeilingM: mFromFt(12000) };
    const choice = choose(layer(0, 9000, LIGHT_ICE), { ...only(11000, 13000), aircraft });
    expect(at(choice, 13000)).toMatchObject({
      verdict: 'outside-limits',
      inWords: 'above the ceiling with ice',
    });
    expect(at(choice, 11000).verdict).toBe('within-limits');
    expect(at(choose(DRY, { ...only(13000), aircraft }), 13000).verdict).toBe('no-ice-found');
  });

  test('ice met only after the descent from it has begun leaves an altitude as it is', () => {
    const aircraft = { ...ROUND_AIRCRAFT, icedCeilingM: mFromFt(12000) };
    const atTheEnd = layer(1000, 5000, LIGHT_ICE, [DESTINATION - 5, DESTINATION]);
    expect(at(choose(atTheEnd, { ...only(13000), aircraft }), 13000).verdict).toBe('within-limits');
  });

  test('an altitude at which the minimum airspeed in icing is not held is outside limits', () => {
    // 180 kt at 10,000 ft and -10 degC are 156 kt indicated, less a per cent a millimeter of 11.6 mm (38.7 min at 0.3): 138.
    const iceLoss = { ...ROUND_AIRCRAFT.iceLoss, airspeedPerM: 10 };
    const asked = (minimumKt: number) =>
      at(
        choose(layer(9500, 12000, LIGHT_ICE), {
          ...only(10000),
          aircraft: { ...ROUND_AIRCRAFT, iceLoss, minimumIcingAirspeedMps: mpsFromKt(minimumKt) },
        }),
        10000,
      );
    expect(asked(145)).toMatchObject({
      verdict: 'outside-limits',
      inWords: 'minimum icing airspeed not held with ice',
    });
    expect(asked(130).verdict).toBe('within-limits');
  });

  // Two hours and more in 0.6 mm/min leave some 90 mm on the unprotected parts: what it takes is told up to 20.
  test('ice far beyond what its loss is known for is not within limits, also where the profile gives no limits with ice', () => {
    const aircraft = makeAircraft('generic-fluid-turboprop', {
      minimumIcingAirspeedMps: 0,
      icedCeilingM: mFromFt(25000),
    });
    const change = { ...only(8000), aircraft, route: makeTestRoute(400), fluidOnBoardM3: 0.2 };
    const { verdict, considered } = choose(layer(6000, 9000, MODERATE_ICE), change);
    expect(considered!.exposure!.builtM.high).toBeGreaterThan(0.06);
    expect(['unknown', 'outside-limits']).toContain(verdict.code);
  });

  test('with ice at lift-off every altitude is outside limits and says so first', () => {
    const choice = choose(DRY, { ...only(5000, 9000), residualIceM: 0.001 });
    expect(choice.candidates.map(({ verdict }) => verdict)).toEqual(['outside-limits', 'outside-limits']);
    expect(choice.verdict.sentence).toContain('ice left on the aeroplane, remove it first');
  });
});

describe('chooseAltitude and the rule of direction', () => {
  test('29,000 ft is to be asked for by 14 CFR 91.179 and suits an eastbound course by ICAO', () => {
    const at29 = (directionRule: ChooseInput['directionRule']) =>
      at(
        choose(DRY, {
          ...only(29000),
          aircraft: { ...ROUND_AIRCRAFT, ceilingM: mFromFt(30000), icedCeilingM: mFromFt(30000) },
          route: makeTestRoute(600),
          directionRule,
        }),
        29000,
      ).direction;
    expect([at29(undefined), at29('ICAO Annex 2, Appendix 3')]).toEqual(['ask', 'right-way']);
  });
});

describe('chooseAltitude and the way out', () => {
  test('long in ice with no way out of it is outside limits', () => {
    const choice = choose(layer(0, 30000, LIGHT_ICE), only(9000));
    expect(codesOf(at(choice, 9000).reasons)).toContain('no-way-out');
    expect(at(choice, 9000).inWords).toMatch(/^no way out of ice for \d+ min$/);
  });

  test('with the minimum altitudes unknown, ice with air below it leaves the verdict unknown and asks for them', () => {
    const deck = layer(6000, 30000, LIGHT_ICE);
    const choice = choose(deck, { ...only(9000), minimum: flatMinimum(route.pointCount, Number.NaN) });
    expect(choice.verdict.code).toBe('unknown');
    expect(choice.verdict.reasons[0]?.sentence).toMatch(/enter the minimum altitudes$/);
    expect(choose(deck, only(9000)).verdict.code).toBe('within-limits');
  });

  test('an aerodrome under the middle of the leg is a way out of ice without any other', () => {
    const deck = layer(0, 30000, LIGHT_ICE, [12, 26]);
    const aerodromes = [{ name: 'CCCC', elevationM: 0, pointIndex: 19, offsetM: 0 }];
    expect(choose(deck, only(6000)).verdict.code).toBe('outside-limits');
    const choice = choose(deck, { ...only(6000), aerodromes });
    expect(choice.verdict.code).toBe('within-limits');
    expect(choice.considered!.waysOut!.aerodrome[23]).toBe('CCCC');
  });
});

describe('chooseAltitude and what is planned', () => {
  const there = (lowerFt: number, upperFt: number, cell: Parameters<typeof layer>[2]) =>
    layer(lowerFt, upperFt, cell, [DESTINATION, DESTINATION]);
  const { planned: _, ...usual } = only(3000, 4000);

  test('a hold in unknown air leaves every altitude unknown', () => {
    const choice = choose(there(5000, 5500, UNKNOWN), usual);
    // In air of -10 degC 3,000 ft indicated are not truly the minimum of 3,000 ft: 4,000 ft is the better of two unknowns.
    expect(choice.verdict.sentence).toBe('Unknown at 4,000 ft: no data for hold, approach or alternate');
    expect(choice.file).toBeUndefined();
  });

  test('ice in the hold alone is within limits, and what is filed does not say that no ice is found', () => {
    const choice = choose(there(5000, 5500, LIGHT_ICE), usual);
    expect(codesOf(choice.verdict.reasons)).toEqual(['icing-where-planned']);
    expect(choice.verdict.sentence).not.toMatch(/no ice found on the whole path/);
  });

  test('drizzle on the approach is told of the approach although the hold has worse', () => {
    const both: CellAt = (point, middleFt) => ({
      ...there(500, 1000, { largeDrops: LARGE_DROPS.freezingDrizzle })(point, middleFt),
      ...there(5000, 5500, { ...LIGHT_ICE, intensity: 4 })(point, middleFt),
    });
    const sentences = choose(both, usual).verdict.reasons.map(({ sentence }) => sentence);
    expect(sentences).toContain('Freezing drizzle on the approach');
    expect(sentences).toContain('Severe icing for up to 30 min in the hold');
  });
});

describe('stepped profiles and minimum altitudes', () => {
  // From 120 NM on 1,000 ft/min at 120 kt are 500 ft a mile: 7,500 ft over the point near 125 NM.
  test('none leads under the minimum altitude of a point, also while it climbs', () => {
    const long = makeTestRoute(300);
    const minimum = flatMinimum(long.pointCount, 3000);
    minimum.altitudeM[25] = mFromFt(9500);
    const sky: CellAt = (point, middleFt) => {
      const isIce = point < 24 ? middleFt > 8000 && middleFt < 20000 : middleFt < 9000;
      return isIce ? LIGHT_ICE : {};
    };
    const choice = choose(sky, { ...only(5000, 13000), route: long, minimum });
    const { stepped } = choice;
    const overFt = stepped === undefined ? Number.NaN : heightOverFt(stepped.levels, 125);
    expect(Number.isNaN(overFt) || overFt >= 9500).toBe(true);
  });
});

/** Of the round aeroplane in still air after the last change of level before a place. */
function heightOverFt(
  levels: readonly { readonly fromM: number; readonly altitudeM: number }[],
  distanceNm: number,
) {
  const index = levels.findLastIndex(({ fromM }) => fromM <= mFromNm(distanceNm));
  const { fromM, altitudeM } = levels[index]!;
  const beforeFt = ftFromM(levels[index - 1]?.altitudeM ?? 0);
  return Math.min(ftFromM(altitudeM), beforeFt + (distanceNm - fromM / 1852) * 500);
}
