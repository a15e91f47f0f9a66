import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import type { CandidateResult, ChooseInput } from '../../worker/flight/types.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { mFromFt } from '../../worker/science/units.ts';
import {
  type CellAt,
  DRY,
  makeChooseInput,
  makeCurtain,
  makeTestRoute,
  ROUND_AIRCRAFT,
  randomCells,
  UNKNOWN,
} from './make-curtain.ts';

const GRAVITY = ['no-ice-found', 'within-limits', 'unknown', 'outside-limits'];
const gravityOf = (candidate: CandidateResult) => GRAVITY.indexOf(candidate.verdict);

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(500), cellCount: 20 });
const route = makeTestRoute(60);
const candidateAltitudesM = [3000, 4000, 5000, 6000, 7000].map(mFromFt);
const chosen = (cellAt: CellAt, change: Partial<ChooseInput> = {}) =>
  chooseAltitude({
    ...makeChooseInput(DRY, { route, candidateAltitudesM, aircraft: ROUND_AIRCRAFT, fluidOnBoardM3: 0.04 }),
    ...makeCurtain(route.pointCount, cellAt, axis),
    ...change,
  });
const cells = randomCells(route.pointCount, axis);
/** Sparser curtains, so that good verdicts occur too. */
const mostlyDry = fc.tuple(cells, fc.array(fc.boolean(), { minLength: 7, maxLength: 11 })).map(
  ([cellAt, mask]): CellAt =>
    (point, middleFt) =>
      mask[(point + Math.floor(middleFt / 500)) % mask.length] && mask[point % 7] && mask[3]
        ? cellAt(point, middleFt)
        : {},
);
const skies = fc.oneof(cells, mostlyDry);
const RUNS = { seed: 1130, numRuns: 60 };

describe('chooseAltitude on invented curtains', () => {
  test('the recommended altitude is known and within limits, and exists whenever one such does', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(skies, (cellAt) => {
        const choice = chosen(cellAt);
        const good = choice.candidates.filter(
          ({ verdict }) => verdict === 'no-ice-found' || verdict === 'within-limits',
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

  test('more ice in a cell never betters a verdict', () => {
    fc.assert(
      fc.property(skies, fc.nat(12), fc.nat(19), (cellAt, icyPoint, icyCell) => {
        const before = chosen(cellAt);
        const after = chosen((point, middleFt) => {
          const cell = cellAt(point, middleFt);
          const isHit =
            point === icyPoint && Math.floor(middleFt / 500) === icyCell && cell.state === undefined;
          return isHit
            ? {
                ...cell,
                icingProbability: 1,
                cloudProbability: 1,
                intensity: 4,
                growthMmPerMin: 2.5,
                temperatureC: -5,
              }
            : cell;
        });
        after.candidates.forEach((candidate, index) => {
          expect(gravityOf(candidate)).toBeGreaterThanOrEqual(gravityOf(before.candidates[index]!));
        });
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
      }),
      RUNS,
    );
  });

  test('ranks follow verdicts', () => {
    fc.assert(
      fc.property(skies, (cellAt) => {
        const ranked = chosen(cellAt)
          .candidates.filter(({ rank }) => rank !== undefined)
          .sort((a, b) => a.rank! - b.rank!)
          .map(gravityOf);
        expect(ranked).toEqual([...ranked].sort((a, b) => a - b));
      }),
      RUNS,
    );
  });
});
