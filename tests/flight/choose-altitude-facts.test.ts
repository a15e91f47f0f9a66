/** What stands beside the choice, the altimeter setting, and the words. */
import { describe, expect, test } from 'vitest';
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { at, choose, deckToTheGround, ftOf, SEVERE_ICE } from './choose.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  MODERATE_ICE,
  makeChooseInput,
  makeTestRoute,
  UNKNOWN,
} from './make-curtain.ts';

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
