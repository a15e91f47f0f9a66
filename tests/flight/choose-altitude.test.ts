import { describe, expect, test } from 'vitest';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { mFromFt, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { at, choose, codesOf, deckToTheGround, filed, SEVERE_ICE } from './choose.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  makeAircraft,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

/** Odd thousands are right on the northbound leg (magnetic course about 14, declination 14 west). */
describe('chooseAltitude over a deck that reaches the ground', () => {
  const choice = choose(deckToTheGround);

  test('recommends the right-way altitude at least 1,500 ft over the top', () => {
    expect(filed(choice)?.altitudeFt).toBe(11000);
    expect(choice.verdict).toMatchObject({ code: 'within-limits' });
    expect(choice.recommended).toMatchObject({ standing: 'recommended', rank: 1, direction: 'right-way' });
  });

  test('accepts the altitudes around it that cost no more ice, and refuses the deck', () => {
    // Over 20,000 ft with what the climb through the deck leaves on the wing; in the deck 22 mm on the trip and 25 min of early
    // descent, vectors and approach at 0.3 mm/min make 29.5: what an aeroplane does with more than 20 is not known. From 9,000 ft on
    // it is 25.6 min and these 25: 15.2 mm. 9,000 and 10,000 ft are less than 1,500 ft over the tops: not as good, and not to be refused.
    expect(filed(choice)).toMatchObject({
      accept: [11000, 20000],
      refuse: [
        '21000 above the ceiling with ice',
        '8000 more ice than the aeroplane is known with',
        '7000 more ice than the aeroplane is known with',
      ],
    });
  });

  // Climb of 9,000 ft at 900 to 765 ft/min: 10.8 min; a tenth less with the separator, 12.0; with 0.27 mm/min and 3 % a millimeter
  // 12.7. Descent at 700 ft/min 12.9: 25.6 min. With 55 min planned for beyond the trip, all in the deck, 80.6 min at 0.45 L/min
  // are 36.3 L; with priming 4, windshield 0.5 and reserve 13.5 they make 54.3.
  test('says in one sentence what to file, the ice and the fluid', () => {
    expect(choice.verdict.sentence).toBe(
      'File 11,000 ft: up to 30 min icing, climb and descent, worst light, fluid up to 55 of 80 L',
    );
    assertClose(choice.recommended!.exposure!.icingS.middle / 60, 25.55, { abs: 0.05, why: 'by hand' });
    assertClose(choice.recommended!.exposure!.fluidM3.high * 1000, 54.25, { abs: 0.05, why: 'by hand' });
  });

  test('ranks what is listed from 1 on without a gap', () => {
    const ranks = choice.candidates.flatMap(({ rank }) => rank ?? []).sort((a, b) => a - b);
    expect(ranks).toEqual(ranks.map((_, index) => index + 1));
  });

  // At 6,000 ft 10,500 ft lie 4,500 ft higher: in ten minutes 450 ft/min, of 795 at 8,250 ft less the separator 63 %, so with no
  // more than 11 mm at the start. Of 58.7 min level, begun with 2.2 mm at 0.27 a minute, 33 pass before, and in the last 6 the
  // destination is a way out: 20 min are left.
  test('lists every candidate, highest first, each flown one with why it lost', () => {
    const altitudes = choice.candidates.map((candidate) => candidate.indicatedAltitudeM);
    expect(altitudes).toEqual([...altitudes].sort((a, b) => b - a));
    expect(at(choice, 6000).reasons[0]).toMatchObject({
      code: 'lost-on-verdict',
      sentence:
        'No way out of ice for 20 min; at 11,000 ft up to 30 min icing, climb and descent, worst light',
    });
    expect(at(choice, 12000).reasons[0]).toMatchObject({
      code: 'lost-on-direction',
      sentence: 'To be asked for, 11,000 ft suits the direction of flight',
    });
    expect(at(choice, 13000).reasons[0]?.code).toBe('lost-on-higher-than-needed');
    expect(at(choice, 10000).reasons[0]?.code).toBe('lost-on-margin-over-the-tops');
  });
});

describe('chooseAltitude between altitudes', () => {
  // At -10 °C the minimum of 3,000 ft takes 3,280 to keep: 3,000 ft is not accepted.
  test('under the deck without ice beats over the deck with some', () => {
    expect(filed(choose(layer(6000, 9000, LIGHT_ICE)))).toMatchObject({
      altitudeFt: 5000,
      accept: [4000, 5000],
    });
  });

  test('a wrong-way altitude without ice beats a right-way one with ice', () => {
    const onlyEvenClean: CellAt = (_, middleFt) =>
      middleFt > 6000 && middleFt < 10000 && !(middleFt > 8000 && middleFt < 8500) ? LIGHT_ICE : {};
    const choice = choose(onlyEvenClean, { candidateAltitudesM: [7000, 8000, 9000].map(mFromFt) });
    expect(filed(choice)?.altitudeFt).toBe(8000);
    expect(choice.recommended?.direction).toBe('ask');
    expect(codesOf(choice.operational)).toContain('ask-for-altitude');
  });

  // By hand: 15 min of climb and descent and 151 NM at 180 kt, 65 min; 21 min and 137 NM, 67 min.
  test('in dry air the right-way altitude that takes least time wins', () => {
    const choice = choose(DRY, {
      aircraft: ROUND_AIRCRAFT,
      candidateAltitudesM: [5000, 6000, 7000].map(mFromFt),
    });
    expect(filed(choice)?.altitudeFt).toBe(5000);
    expect(at(choice, 7000).reasons[0]?.sentence).toBe('2 min longer than 5,000 ft');
  });

  test('an altitude partly without data never beats one that is known', () => {
    const choice = choose(
      (point, middleFt) =>
        middleFt > 5000 && point > 20 ? UNKNOWN : layer(1000, 2500, LIGHT_ICE)(point, middleFt),
      { planned: NOTHING_PLANNED },
    );
    expect(filed(choice)?.altitudeFt).toBe(4000);
    expect(at(choice, 11000)).toMatchObject({ standing: 'unknown', verdict: 'unknown' });
  });
});

describe('chooseAltitude when nothing is acceptable', () => {
  test('without any data is unknown, files nothing and promises nothing', () => {
    const choice = choose(() => UNKNOWN);
    expect(choice.verdict.code).toBe('unknown');
    expect([choice.file, choice.recommended]).toEqual([undefined, undefined]);
    expect(choice.candidates.every((candidate) => candidate.verdict === 'unknown')).toBe(true);
    expect(JSON.stringify(choice)).not.toMatch(/no ice found/i);
    expect(new Set(choice.considered?.waysOut?.way)).toEqual(new Set(['unknown']));
  });

  test('severe ice everywhere is outside limits and says what is met at the best of them', () => {
    const choice = choose(layer(0, 30000, SEVERE_ICE));
    expect(choice.verdict.code).toBe('outside-limits');
    expect(choice.verdict.sentence).toMatch(/^No altitude is within limits. At [\d,]+ ft: severe icing/);
    expect(choice.file).toBeUndefined();
    expect(choice.candidates.filter(({ rank }) => rank === 1)).toHaveLength(1);
  });

  test('an unknown altitude leaves it unknown although all others are outside limits', () => {
    const choice = choose((point, middleFt) =>
      middleFt > 11000 && point === 20
        ? UNKNOWN
        : middleFt < 11000 && point > 14 && point < 26
          ? SEVERE_ICE
          : {},
    );
    expect(choice.verdict.code).toBe('unknown');
    expect(choice.file).toBeUndefined();
  });

  test('an aeroplane that is not certified has no altitude through ice', () => {
    const aircraft = makeAircraft('generic-unprotected-single');
    const choice = choose(deckToTheGround, { aircraft, fluidOnBoardM3: undefined });
    expect(choice.verdict).toMatchObject({ code: 'outside-limits' });
    expect(codesOf(choice.verdict.reasons)).toContain('not-certified');
    expect([choice.considered?.fluid, choice.considered?.fluidPlan]).toEqual([undefined, undefined]);
  });

  test('no altitude to fly at all is unknown and names each one with its reason', () => {
    const route = makeTestRoute();
    const choice = choose(DRY, { minimum: flatMinimum(route.pointCount, 26000) });
    expect(choice.verdict.code).toBe('unknown');
    expect(choice.verdict.reasons[0]?.code).toBe('no-altitude');
    expect(choice.verdict.reasons[1]?.sentence).toBe(
      '3,000 ft: Below the minimum altitude of 26,000 ft at 0 NM',
    );
    expect(choice.considered).toBeUndefined();
  });
});

describe('chooseAltitude refuses altitudes that cannot be flown', () => {
  test('below the minimum altitude anywhere', () => {
    const route = makeTestRoute();
    const minimum = flatMinimum(route.pointCount, 3000);
    minimum.altitudeM[20] = mFromFt(7500);
    const choice = choose(DRY, { minimum });
    expect(at(choice, 7000)).toMatchObject({
      standing: 'below-minimum-altitude',
      exposure: undefined,
      rank: undefined,
    });
    expect(at(choice, 7000).reasons[0]?.sentence).toBe('Below the minimum altitude of 7,500 ft at 98 NM');
    expect(at(choice, 8000).standing).not.toBe('below-minimum-altitude');
  });

  test('the minimum altitude itself may be flown', () => {
    const route = makeTestRoute();
    expect(at(choose(DRY, { minimum: flatMinimum(route.pointCount, 7000) }), 7000).exposure).toBeDefined();
  });

  test('above the ceiling, by pressure altitude', () => {
    const candidateAltitudesM = [24000, 25000].map(mFromFt);
    const choice = choose(DRY, {
      candidateAltitudesM,
      indicatedMinusPressureM: mFromFt(-300),
      route: makeTestRoute(600),
    });
    expect(at(choice, 25000).standing).toBe('above-ceiling');
    expect(at(choice, 24000).standing).not.toBe('above-ceiling');
  });

  test('higher than the leg has room for', () => {
    const choice = choose(DRY, { route: makeTestRoute(60) });
    expect(at(choice, 20000)).toMatchObject({ standing: 'leg-too-short', exposure: undefined });
  });

  test('against a wind that leaves no ground speed, which is unknown and not slow', () => {
    const choice = choose((_, middleFt) => ({ windNorthMps: middleFt > 15000 ? -mpsFromKt(180) : 0 }));
    expect(at(choice, 17000)).toMatchObject({ standing: 'unknown', verdict: 'unknown', exposure: undefined });
    expect(filed(choice)?.accept[1]).toBeLessThan(17000);
  });

  test('through cells that are below the ground', () => {
    const hill: CellAt = (point, middleFt) =>
      point === 20 && middleFt < 6000 ? { state: CELL_STATE.belowGround } : {};
    const route = makeTestRoute();
    const choice = choose(hill, { minimum: flatMinimum(route.pointCount, Number.NaN) });
    expect(at(choice, 5000)).toMatchObject({ standing: 'below-minimum-altitude', verdict: 'unknown' });
    expect(at(choice, 6000).exposure).toBeDefined();
  });

  test('not above an aerodrome', () => {
    const route = makeTestRoute(186, mFromFt(3500));
    expect(
      at(choose(DRY, { route, minimum: flatMinimum(route.pointCount, Number.NaN) }), 3000).reasons[0]?.code,
    ).toBe('below-aerodrome');
  });
});
