/** More ice, however little more probable, and more warnings never better a verdict, on invented curtains. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Hazard } from '../../worker/flight/hazards.ts';
import type { Choice, ChooseInput } from '../../worker/flight/types.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { type CellAt, makeAircraft } from './make-curtain.ts';
import { blockSkies, chosen, gravityOf, gravityOfCode, LONG_ROUTE, skies } from './random-skies.ts';

const RUNS = { seed: 2711, numRuns: 60 };

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

  test('nor over a long leg, stepped profiles included', () => {
    const change = { route: LONG_ROUTE };
    fc.assert(
      fc.property(blockSkies, layerFt, probability, (cellAt, where, atLeast) => {
        const before = chosen(cellAt, change).verdict.code;
        const after = chosen(likelier(cellAt, where, atLeast), change).verdict.code;
        expect(gravityOfCode(after)).toBeGreaterThanOrEqual(gravityOfCode(before));
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
        expectNoBetter(chosen(cellAt, { hazards }), chosen(cellAt, { hazards: [...hazards, more] }));
      }),
      RUNS,
    );
  });

  test('nor over a long leg, stepped profiles included', () => {
    const with_ = (cellAt: CellAt, hazards: ChooseInput['hazards']) =>
      gravityOfCode(chosen(cellAt, { route: LONG_ROUTE, hazards }).verdict.code);
    fc.assert(
      fc.property(blockSkies, hazard, fc.nat(40), (cellAt, one, from) => {
        const more = { ...one, firstPoint: from, lastPoint: from + one.lastPoint - one.firstPoint };
        expect(with_(cellAt, [more])).toBeGreaterThanOrEqual(with_(cellAt, []));
      }),
      RUNS,
    );
  });
});
