import { describe, expect, test } from 'vitest';
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import type { CandidateResult, Choice, ChooseInput } from '../../worker/flight/types.ts';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { ftFromM, mFromFt, mpsFromKt } from '../../worker/science/units.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeAircraft,
  makeChooseInput,
  makeTestRoute,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const SEVERE_ICE = { ...LIGHT_ICE, intensity: 4, growthMmPerMin: 2 };
/** Odd thousands are right on the northbound leg (magnetic course about 14, declination 14 west). */
const deckToTheGround = layer(0, 9000, LIGHT_ICE);

const choose = (cellAt: CellAt, change: Partial<ChooseInput> = {}): Choice =>
  chooseAltitude(makeChooseInput(cellAt, change));
const ftOf = (altitudeM: number) => Math.round(ftFromM(altitudeM));

function at(choice: Choice, altitudeFt: number): CandidateResult {
  const found = choice.candidates.find((candidate) => ftOf(candidate.indicatedAltitudeM) === altitudeFt);
  if (found === undefined) throw new Error(`no candidate at ${altitudeFt}`);
  return found;
}

const filed = (choice: Choice) =>
  choice.file && {
    altitudeFt: ftOf(choice.file.altitudeM),
    accept: [ftOf(choice.file.acceptLowerM), ftOf(choice.file.acceptUpperM)],
    refuse: choice.file.refuse.map(({ altitudeM, reason }) => `${ftOf(altitudeM)} ${reason}`),
  };

describe('chooseAltitude over a deck that reaches the ground', () => {
  const choice = choose(deckToTheGround);

  test('recommends the right-way altitude at least 1,500 ft over the top', () => {
    expect(filed(choice)?.altitudeFt).toBe(11000);
    expect(choice.verdict).toMatchObject({ code: 'within-limits' });
    expect(choice.recommended).toMatchObject({ standing: 'recommended', rank: 1, direction: 'right-way' });
  });

  test('accepts the altitudes around it that cost no more ice, and refuses the deck', () => {
    expect(filed(choice)?.accept[0]).toBe(9000);
    expect(filed(choice)?.refuse[0]).toMatch(/^8000 up to 70 min of icing/);
  });

  test('says in one sentence what to file, the ice and the fluid', () => {
    expect(choice.verdict.sentence).toBe(
      'File 11,000 ft: up to 25 min icing, climb and descent, worst light, fluid up to 30 of 80 L',
    );
  });

  test('lists every candidate, highest first, each flown one with its rank and why it lost', () => {
    const altitudes = choice.candidates.map((candidate) => candidate.indicatedAltitudeM);
    expect(altitudes).toEqual([...altitudes].sort((a, b) => b - a));
    const ranks = choice.candidates.flatMap(({ rank }) => rank ?? []).sort((a, b) => a - b);
    expect(ranks).toEqual(ranks.map((_, index) => index + 1));
    expect(at(choice, 7000).reasons[0]).toMatchObject({
      code: 'lost-on-icing-time',
      sentence: '70 min of icing, light at worst, 45 min more than 11,000 ft',
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
  test('under the deck without ice beats over the deck with some', () => {
    expect(filed(choose(layer(6000, 9000, LIGHT_ICE)))).toMatchObject({
      altitudeFt: 5000,
      accept: [3000, 5000],
    });
  });

  test('a wrong-way altitude without ice beats a right-way one with ice', () => {
    const onlyEvenClean: CellAt = (_, middleFt) => (middleFt > 8000 && middleFt < 8500 ? {} : LIGHT_ICE);
    const choice = choose(onlyEvenClean, { candidateAltitudesM: [7000, 8000, 9000].map(mFromFt) });
    expect(filed(choice)?.altitudeFt).toBe(8000);
    expect(choice.recommended?.direction).toBe('ask');
    expect(choice.operational.map((reason) => reason.code)).toContain('ask-for-altitude');
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
    const choice = choose((point, middleFt) =>
      middleFt > 5000 && point > 20 ? UNKNOWN : layer(0, 5000, LIGHT_ICE)(point, middleFt),
    );
    expect(filed(choice)?.altitudeFt).toBeLessThanOrEqual(5000);
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
    expect(new Set(choice.waysOut.map(({ way }) => way))).toEqual(new Set(['unknown']));
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
    expect(choice.verdict.reasons.map((reason) => reason.code)).toContain('not-certified');
    expect(choice.fluid).toBeUndefined();
  });

  test('no altitude to fly at all is unknown and names each one with its reason', () => {
    const route = makeTestRoute();
    const choice = choose(DRY, { minimum: flatMinimum(route.pointCount, 26000) });
    expect(choice.verdict.code).toBe('unknown');
    expect(choice.verdict.reasons[0]?.code).toBe('no-altitude');
    expect(choice.verdict.reasons[1]?.sentence).toBe(
      '3,000 ft: Below the minimum altitude of 26,000 ft at 0 NM',
    );
    expect(choice.waysOut).toEqual([]);
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

describe('chooseAltitude and facts that are not icing', () => {
  test('an unknown minimum altitude does not forbid an altitude and is asked for, with its stretch', () => {
    const route = makeTestRoute();
    const minimum = flatMinimum(route.pointCount, 3000);
    minimum.source.fill(0, 5, 11);
    minimum.altitudeM.fill(Number.NaN, 5, 11);
    const choice = choose(DRY, { minimum });
    expect(choice.recommended).toBeDefined();
    expect(choice.operational[0]).toMatchObject({
      code: 'minimum-altitude-unknown',
      sentence: 'The minimum altitude is unknown from 24 to 49 NM: enter it from the chart',
    });
  });

  test('oxygen is named above 10,000 ft for more than half an hour and not below', () => {
    const codes = (altitudeFt: number) =>
      choose(DRY, { candidateAltitudesM: [mFromFt(altitudeFt)] }).operational.map((reason) => reason.code);
    expect(codes(11000)).toContain('oxygen');
    expect(codes(9000)).not.toContain('oxygen');
  });

  test('cold air over an end of the leg that eats into its minimum is named with what to add, mild air is not', () => {
    const told = (departureC: number, destinationC: number, minimumFt = 5000) => {
      const route = makeTestRoute();
      const last = route.pointCount - 1;
      const cells: CellAt = (point, middleFt) => {
        const groundC = point < last / 2 ? departureC : destinationC;
        return { temperatureC: groundC - (middleFt / 1000) * 2 };
      };
      const { operational } = choose(cells, { route, minimum: flatMinimum(route.pointCount, minimumFt) });
      return operational.find(({ code }) => code === 'cold-altitude');
    };
    // The lowest cell is 250 ft up: half a degree colder than the ground. The table for -30 °C and 5,000 ft has 950 ft.
    expect(told(-10, -29.5)).toEqual({
      code: 'cold-altitude',
      sentence:
        'At -30 °C at the destination, 5,000 ft indicated is 950 ft lower: fly 5,950 ft to keep that minimum (ICAO Doc 8168)',
      numbers: { temperatureC: -30, minimumFt: 5000, addFt: 950 },
    });
    expect(told(-29.5, -10)?.sentence).toContain('at the departure');
    expect(told(10, 12)).toBeUndefined();
    expect(told(0.5, 0.5, 2000)).toBeUndefined();
    expect(told(-29.5, -29.5, Number.NaN)).toBeUndefined();
  });

  test('nothing is said of the cold at an end whose lowest air is unknown', () => {
    const cells: CellAt = (_, middleFt) => (middleFt < 2000 ? UNKNOWN : { temperatureC: -40 });
    const codes = choose(cells, { minimum: flatMinimum(makeTestRoute().pointCount, 5000) }).operational.map(
      ({ code }) => code,
    );
    expect(codes).not.toContain('cold-altitude');
  });

  test('unknown wind is named and makes no verdict unknown', () => {
    const input = makeChooseInput(DRY);
    input.weather.windEastMps.fill(Number.NaN);
    const choice = chooseAltitude(input);
    expect(choice.operational.map((reason) => reason.code)).toContain('wind-unknown');
    expect(choice.verdict.code).toBe('no-ice-found');
  });
});

describe('chooseAltitude and the altimeter setting', () => {
  test('a low setting moves indicated altitudes down against the curtain', () => {
    const shifted = choose(layer(0, 9000, LIGHT_ICE), { indicatedMinusPressureM: mFromFt(-1000) });
    const found = at(shifted, 9000);
    expect(ftOf(found.pressureAltitudeM)).toBe(10000);
    expect(found.exposure?.icingHighByPhaseS.cruise).toBe(0);
    expect(at(shifted, 7000).exposure?.icingHighByPhaseS.cruise).toBeGreaterThan(0);
  });

  test('a climb starts at the elevation of the aerodrome', () => {
    const low = at(choose(deckToTheGround), 11000).exposure!;
    const high = at(choose(deckToTheGround, { route: makeTestRoute(186, mFromFt(2000)) }), 11000).exposure!;
    expect(high.climbS).toBeLessThan(low.climbS);
    expect(high.icingS.middle).toBeLessThan(low.icingS.middle);
  });
});

describe('chooseAltitude, its words', () => {
  const skies: CellAt[] = [
    DRY,
    () => UNKNOWN,
    deckToTheGround,
    layer(6000, 9000, SEVERE_ICE),
    layer(0, 30000, MODERATE_ICE),
    layer(2000, 4000, { largeDrops: LARGE_DROPS.freezingRain }),
    layer(7000, 30000, UNKNOWN),
    layer(9000, 9500, LIGHT_ICE),
  ];
  const choices = skies.flatMap((sky) =>
    [0.08, 0.03, 0.01, undefined].map((fluidOnBoardM3) => choose(sky, { fluidOnBoardM3 })),
  );

  test('reasons to file and to refuse have at most ten words', () => {
    const short = choices.flatMap((choice) => [
      ...(choice.file === undefined ? [] : [choice.file.reason]),
      ...(choice.file?.refuse.map(({ reason }) => reason) ?? []),
    ]);
    expect(short.length).toBeGreaterThan(20);
    for (const words of short) expect([words, words.split(' ').length <= 10]).toEqual([words, true]);
  });

  test('the word "clear" stands nowhere', () => {
    expect(JSON.stringify(choices)).not.toMatch(/\bclear\b/i);
  });

  test('no sentence holds a number that is none', () => {
    expect(
      JSON.stringify(choices.map((choice) => [choice.verdict, choice.operational, choice.file])),
    ).not.toMatch(/NaN|Infinity|undefined/);
  });

  test('every candidate has a reason', () => {
    expect(choices.flatMap(({ candidates }) => candidates).every(({ reasons }) => reasons.length > 0)).toBe(
      true,
    );
  });

  test('equal inputs give equal bytes', () => {
    expect(JSON.stringify(choose(deckToTheGround))).toBe(JSON.stringify(choose(deckToTheGround)));
  });
});
