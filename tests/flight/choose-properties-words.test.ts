/** What the choice says, on invented curtains: as few words as promised, the numbers of the exposure, no one beaten by a lesser. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import type { CandidateResult, Choice, Exposure, FlightReason } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { makeAircraft, ROUND_AIRCRAFT } from './make-curtain.ts';
import {
  blockSkies,
  chosen,
  circumstances,
  fairSkies,
  gravityOf,
  LONG_ROUTE,
  skies,
} from './random-skies.ts';

const RUNS = { seed: 814, numRuns: 60 };
const LOW_WITH_ICE = makeAircraft('generic-boots-twin', { icedCeilingM: mFromFt(6000) });
const aircraft = fc.constantFrom(
  ROUND_AIRCRAFT,
  LOW_WITH_ICE,
  ...builtInAircraft.map(({ id }) => makeAircraft(id)),
);
const altitudesM = [3000, 5000, 7000, 8000, 9000].map(mFromFt);
const long = (cellAt: Parameters<typeof chosen>[0], change: Parameters<typeof chosen>[1] = {}) =>
  chosen(cellAt, { route: LONG_ROUTE, candidateAltitudesM: altitudesM, ...change });
const anyChoice = fc.oneof(
  fc
    .tuple(blockSkies, aircraft, circumstances)
    .map(([sky, plane, change]) => long(sky, { aircraft: plane, ...change })),
  fc.tuple(skies, circumstances).map(([sky, change]) => chosen(sky, change)),
  fairSkies.map((sky) => long(sky, { aircraft: LOW_WITH_ICE, fluidOnBoardM3: undefined })),
);

const all = ({ candidates, stepped }: Choice): readonly CandidateResult[] =>
  stepped === undefined ? candidates : [...candidates, stepped];

describe('the words of the choice', () => {
  test('to file, accept and refuse, and of every candidate, are ten at most and hold no number that is none', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(anyChoice, (choice) => {
        const { file } = choice;
        const short = [
          ...all(choice).map(({ inWords }) => inWords),
          ...(file === undefined ? [] : [file.reason, file.acceptReason]),
          ...(file?.refuse.map(({ reason }) => reason) ?? []),
        ];
        for (const words of short) {
          expect([words, words.split(' ').length <= 10]).toEqual([words, true]);
          expect(words).not.toMatch(/NaN|Infinity|undefined|\bclear\b|\bsafe\b/);
          met.add(words.replace(/\d[\d,]*/g, '#'));
        }
      }),
      RUNS,
    );
    expect(met.size).toBeGreaterThan(25);
    expect(met).toContain('above the ceiling with ice');
  });

  test('no code stands in for words', () => {
    fc.assert(
      fc.property(anyChoice, (choice) => {
        for (const { inWords } of all(choice)) expect(inWords).not.toMatch(/^[a-z]+(-[a-z]+)+$/);
      }),
      RUNS,
    );
  });
});

/** Minutes, liters and millimeters are carried in tenths; something never becomes nothing. */
const TENTH = { abs: 0.0501, why: 'rounded to a tenth' };
const close = (found: FlightReason['numbers'][string] | undefined, amount: number) => {
  if (amount > 0 && amount < 0.05) expect(found).toBe(0.1);
  else assertClose(Number(found), amount, TENTH);
};

/** Numbers of each reason and what they are of. */
const OF_EXPOSURE: Readonly<Record<string, (exposure: Exposure) => Readonly<Record<string, number>>>> = {
  icing: ({ icingS }) => ({
    lowMinutes: icingS.low / 60,
    middleMinutes: icingS.middle / 60,
    highMinutes: icingS.high / 60,
  }),
  'severe-icing': ({ intensityS: { severe } }) => ({
    middleMinutes: severe.middle / 60,
    highMinutes: severe.high / 60,
  }),
  'unknown-air': ({ unknownS }) => ({ minutes: unknownS / 60 }),
  'unknown-where-planned': ({ planned }) => ({ minutes: planned.unknownS / 60 }),
  'large-drops': ({ largeDropS }) => ({ minutes: largeDropS / 60 }),
  'large-drops-where-planned': ({ planned }) => ({ minutes: planned.largeDropS / 60 }),
  'severe-icing-where-planned': ({ planned }) => ({ highMinutes: planned.severeHighS / 60 }),
  'fluid-short': ({ fluidHighKnownM3 }) => ({
    neededL: fluidHighKnownM3 * 1000,
  }),
  'fluid-not-given': ({ fluidM3 }) => ({ neededL: fluidM3.high * 1000 }),
  'ice-at-lift-off': ({ residualIceM }) => ({ iceMm: residualIceM * 1000 }),
  'iced-ceiling': ({ builtAloftM }) => ({ builtMm: builtAloftM.high * 1000 }),
  'close-under-the-tops': ({ underTopsS }) => ({ minutes: underTopsS / 60 }),
  'air-below-unknown': ({ belowUnknownS }) => ({ minutes: belowUnknownS / 60 }),
};

test('the numbers beside a reason are those of the exposure', () => {
  const met = new Set<string>();
  fc.assert(
    fc.property(anyChoice, (choice) => {
      for (const { exposure, reasons } of all(choice)) {
        if (exposure === undefined) continue;
        close(reasons[0]!.numbers.icingMinutes, exposure.icingS.middle / 60);
        close(reasons[0]!.numbers.unknownMinutes, exposure.unknownS / 60);
        close(reasons[0]!.numbers.builtMm, exposure.builtM.middle * 1000);
        close(reasons[0]!.numbers.fluidL, exposure.fluidM3.middle * 1000);
        close(reasons[0]!.numbers.timeMinutes, exposure.totalS / 60);
        for (const { code, numbers } of reasons) {
          const expected = OF_EXPOSURE[code]?.(exposure) ?? {};
          for (const [name, amount] of Object.entries(expected)) close(numbers[name], amount);
          if (Object.keys(expected).length > 0) met.add(code);
        }
      }
    }),
    RUNS,
  );
  expect([...met].sort()).toEqual(Object.keys(OF_EXPOSURE).sort());
});

/** Severe icing and large drops, s. */
const dangerS = ({ largeDropS, intensityS }: Exposure) => largeDropS + intensityS.severe.high;
const iceOrUnknownS = ({ icingS, unknownS }: Exposure) => icingS.middle + unknownS;
/** Less ice, or less that is unknown, is no reason to choose. */
const STEP_S = 300;

test('the recommended one is beaten by no other in verdict, nor in ice and unknown air by five minutes with nothing worse', () => {
  let compared = 0;
  const fairChoice = fairSkies.map((sky) => long(sky, { fluidOnBoardM3: 0.08 }));
  fc.assert(
    fc.property(fc.oneof(anyChoice, fairChoice), (choice) => {
      const best = choice.recommended;
      if (best === undefined) return;
      for (const other of all(choice)) {
        if (other === best || other.exposure === undefined || other.isUnderColdMinimum) continue;
        compared += 1;
        expect(gravityOf(other)).toBeGreaterThanOrEqual(gravityOf(best));
        const isNoWorse =
          gravityOf(other) === gravityOf(best) && dangerS(other.exposure) <= dangerS(best.exposure!);
        const isLessFluid = other.exposure.fluidM3.high <= best.exposure!.fluidM3.high;
        if (!isNoWorse || !isLessFluid) continue;
        expect(iceOrUnknownS(best.exposure!)).toBeLessThan(iceOrUnknownS(other.exposure) + STEP_S);
      }
    }),
    RUNS,
  );
  expect(compared).toBeGreaterThan(60);
});
