import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CellAt, makeAircraft, type TestCell, UNKNOWN } from './make-curtain.ts';
import { blockSkies, chosen, gravityOf, gravityOfCode, LONG_ROUTE, skies } from './random-skies.ts';

const RUNS = { seed: 1130, numRuns: 60 };

/** The worst ice there is, in one known cell of a sky. */
const WORST: TestCell = {
  icingProbability: 1,
  cloudProbability: 1,
  intensity: 4,
  growthMmPerMin: 2.5,
  temperatureC: -5,
};
const isCell = (point: number, middleFt: number, at: readonly [number, number]) =>
  point === at[0] && Math.floor(middleFt / 500) === at[1];
const withIceAt =
  (cellAt: CellAt, at: readonly [number, number]): CellAt =>
  (point, middleFt) => {
    const cell = cellAt(point, middleFt);
    return isCell(point, middleFt, at) && cell.state === undefined ? { ...cell, ...WORST } : cell;
  };

describe('chooseAltitude on invented curtains', () => {
  test('the recommended altitude is known and within limits, and exists whenever one such does', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(skies, (cellAt) => {
        const choice = chosen(cellAt);
        const good = choice.candidates.filter(
          ({ verdict, isUnderColdMinimum }) =>
            !isUnderColdMinimum && (verdict === 'no-ice-found' || verdict === 'within-limits'),
        );
        expect(choice.recommended === undefined).toBe(good.length === 0);
        expect(choice.file === undefined).toBe(good.length === 0);
        if (choice.recommended !== undefined) expect(good).toContain(choice.recommended);
        met.add(choice.verdict.code);
      }),
      RUNS,
    );
    expect(met.size).toBeGreaterThanOrEqual(3);
  });

  test('more ice in a cell never betters a verdict, of an altitude or of the whole', () => {
    fc.assert(
      fc.property(skies, fc.nat(12), fc.nat(19), (cellAt, point, cell) => {
        const before = chosen(cellAt);
        const after = chosen(withIceAt(cellAt, [point, cell]));
        after.candidates.forEach((candidate, index) => {
          expect(gravityOf(candidate)).toBeGreaterThanOrEqual(gravityOf(before.candidates[index]!));
        });
        expect(gravityOfCode(after.verdict.code)).toBeGreaterThanOrEqual(gravityOfCode(before.verdict.code));
      }),
      RUNS,
    );
  });

  test('nor does it of an aeroplane that ice slows down', () => {
    const aircraft = makeAircraft();
    fc.assert(
      fc.property(skies, fc.nat(12), fc.nat(19), (cellAt, point, cell) => {
        const before = chosen(cellAt, { aircraft });
        const after = chosen(withIceAt(cellAt, [point, cell]), { aircraft });
        expect(gravityOfCode(after.verdict.code)).toBeGreaterThanOrEqual(gravityOfCode(before.verdict.code));
      }),
      RUNS,
    );
  });

  test('ice along a whole altitude never betters the verdict of a long leg, stepped profiles included', () => {
    fc.assert(
      fc.property(blockSkies, fc.nat(19), (cellAt, cell) => {
        const worse: CellAt = (point, middleFt) => withIceAt(cellAt, [point, cell])(point, middleFt);
        const before = chosen(cellAt, { route: LONG_ROUTE }).verdict.code;
        const after = chosen(worse, { route: LONG_ROUTE }).verdict.code;
        expect(gravityOfCode(after)).toBeGreaterThanOrEqual(gravityOfCode(before));
      }),
      RUNS,
    );
  });
});

describe('chooseAltitude with less or more known, on invented curtains', () => {
  test('taking data away never gives a better known verdict', () => {
    fc.assert(
      fc.property(skies, fc.array(fc.nat(259), { minLength: 1, maxLength: 80 }), (cellAt, gone) => {
        const holes = new Set(gone);
        const before = chosen(cellAt);
        const after = chosen((point, middleFt) =>
          holes.has(point * 20 + Math.floor(middleFt / 500)) ? UNKNOWN : cellAt(point, middleFt),
        );
        after.candidates.forEach((candidate, index) => {
          const isKnown = candidate.verdict !== 'unknown';
          if (isKnown)
            expect(gravityOf(candidate)).toBeGreaterThanOrEqual(gravityOf(before.candidates[index]!));
        });
      }),
      RUNS,
    );
  });

  test('more fluid on board never worsens a verdict', () => {
    const liters = fc.integer({ min: 0, max: 80 });
    fc.assert(
      fc.property(skies, liters, liters, (cellAt, some, more) => {
        const less = chosen(cellAt, { fluidOnBoardM3: some / 1000 });
        const full = chosen(cellAt, { fluidOnBoardM3: (some + more) / 1000 });
        full.candidates.forEach((candidate, index) => {
          expect(gravityOf(candidate)).toBeLessThanOrEqual(gravityOf(less.candidates[index]!));
        });
        expect(gravityOfCode(full.verdict.code)).toBeLessThanOrEqual(gravityOfCode(less.verdict.code));
      }),
      RUNS,
    );
  });

  test('ranks follow verdicts, those that the cold puts under the minimum altitude after all others', () => {
    fc.assert(
      fc.property(skies, (cellAt) => {
        const ranked = chosen(cellAt)
          .candidates.filter(({ rank }) => rank !== undefined)
          .sort((a, b) => a.rank! - b.rank!)
          .map((candidate) => gravityOf(candidate) + (candidate.isUnderColdMinimum ? 10 : 0));
        expect(ranked).toEqual([...ranked].sort((a, b) => a - b));
      }),
      RUNS,
    );
  });
});
