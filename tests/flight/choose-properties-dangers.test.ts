/** More ice, however little more probable, and more warnings never better a verdict, on invented curtains. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Hazard } from '../../worker/flight/hazards.ts';
import type { Choice, ChooseInput } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { type CellAt, makeAircraft, makeTestRoute, NOTHING_PLANNED, type TestCell } from './make-curtain.ts';
import { chosen, gravityOf, gravityOfCode, skies } from './random-skies.ts';

const RUNS = { seed: 2711, numRuns: 100 };

/** A layer in which ice is at least so probable, as it is there. */
const likelier =
  (cellAt: CellAt, layerFt: readonly [number, number], atLeast: number): CellAt =>
  (point, middleFt) => {
    const cell = cellAt(point, middleFt);
    const isIn = middleFt > layerFt[0] && middleFt < layerFt[1];
    if (!isIn || cell.state !== undefined) return cell;
    const icingProbability = Math.max(cell.icingProbability ?? 0, atLeast);
    const cloudProbability = Math.max(cell.cloudProbability ?? 0, atLeast);
    return { growthMmPerMin: 0.2, intensity: 2, ...cell, icingProbability, cloudProbability };
  };

const layerFt = fc
  .tuple(fc.integer({ min: 0, max: 16 }), fc.integer({ min: 1, max: 6 }))
  .map(([cell, depth]) => [cell * 500, (cell + depth) * 500] as const);
const probability = fc.constantFrom(0.04, 0.14, 0.16, 0.39, 0.44, 0.9, 1);

/** Between places that are no aerodromes, with fluid for all of it. */
const FAR_ROUTE = makeTestRoute(240, Number.NaN);
const far = (cellAt: CellAt, change: Partial<ChooseInput> = {}): Choice =>
  chosen(cellAt, { route: FAR_ROUTE, planned: NOTHING_PLANNED, fluidOnBoardM3: 0.3, ...change });

/** Blocks of 60 NM by 2,000 ft, most of them with some chance of little ice. */
const icyBlock: fc.Arbitrary<TestCell> = fc.record({
  icingProbability: fc.constantFrom(0, 0.07, 0.16, 0.3, 0.5, 1),
  cloudProbability: fc.constant(1),
  growthMmPerMin: fc.constantFrom(0, 0.01, 0.05),
  intensity: fc.constantFrom(1, 2),
});
const icyBlockSkies: fc.Arbitrary<CellAt> = fc
  .array(icyBlock, { minLength: 20, maxLength: 20 })
  .map(
    (blocks) => (point, middleFt) =>
      blocks[Math.min(3, Math.floor(point / 12)) * 5 + Math.min(4, Math.floor(middleFt / 2000))]!,
  );

function expectNoBetter(before: Choice, after: Choice): void {
  after.candidates.forEach((candidate, index) => {
    expect(gravityOf(candidate)).toBeGreaterThanOrEqual(gravityOf(before.candidates[index]!));
  });
  expect(gravityOfCode(after.verdict.code)).toBeGreaterThanOrEqual(gravityOfCode(before.verdict.code));
}

describe('a layer in which ice is likelier', () => {
  test('never betters a verdict, of an altitude or of the whole', () => {
    fc.assert(
      fc.property(skies, layerFt, probability, (cellAt, where, atLeast) => {
        expectNoBetter(chosen(cellAt), chosen(likelier(cellAt, where, atLeast)));
      }),
      RUNS,
    );
  });

  test('nor does it of an aeroplane that ice slows down', () => {
    const aircraft = makeAircraft();
    fc.assert(
      fc.property(skies, layerFt, probability, (cellAt, where, atLeast) => {
        const [before, after] = [cellAt, likelier(cellAt, where, atLeast)].map((sky) =>
          chosen(sky, { aircraft }),
        );
        expect(gravityOfCode(after!.verdict.code)).toBeGreaterThanOrEqual(
          gravityOfCode(before!.verdict.code),
        );
      }),
      RUNS,
    );
  });

  // Far from any aerodrome, so that the ways out decide.
  test('nor over a long leg, of an altitude or of the whole, stepped profiles included', () => {
    fc.assert(
      fc.property(icyBlockSkies, layerFt, probability, (cellAt, where, atLeast) => {
        expectNoBetter(far(cellAt), far(likelier(cellAt, where, atLeast)));
      }),
      RUNS,
    );
  });
});

describe('one warning more', () => {
  const hazard: fc.Arbitrary<Hazard> = fc.record({
    id: fc.constant('A'),
    kind: fc.constant('warning' as const),
    severity: fc.constantFrom('unstated', 'moderate', 'severe', 'large-drops'),
    sentence: fc.constant('Icing reported or warned of along the leg'),
    validFromMs: fc.constant(0),
    validToMs: fc.constant(1),
    issuedMs: fc.constant(0),
    firstPoint: fc.nat(6),
    lastPoint: fc.integer({ min: 6, max: 12 }),
    lowerM: fc.constantFrom(Number.NEGATIVE_INFINITY, ...[2000, 4000, 6000].map(mFromFt)),
    upperM: fc.constantFrom(Number.POSITIVE_INFINITY, ...[6500, 7000, 8000].map(mFromFt)),
  });

  test('never betters a verdict, of an altitude or of the whole', () => {
    fc.assert(
      fc.property(skies, fc.array(hazard, { maxLength: 1 }), hazard, (cellAt, hazards, more) => {
        expectNoBetter(
          chosen(cellAt, { hazards }),
          chosen(cellAt, { hazards: [...hazards, { ...more, id: 'B' }] }),
        );
      }),
      RUNS,
    );
  });

  test('nor over a long leg, of an altitude or of the whole, stepped profiles included', () => {
    fc.assert(
      fc.property(icyBlockSkies, hazard, fc.nat(40), (cellAt, one, from) => {
        const more = { ...one, firstPoint: from, lastPoint: from + one.lastPoint - one.firstPoint };
        expectNoBetter(far(cellAt), far(cellAt, { hazards: [more] }));
      }),
      RUNS,
    );
  });
});
