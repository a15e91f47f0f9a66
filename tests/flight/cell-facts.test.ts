/** What the flight asks of each cell: on both sides of every limit, and never yes or no of unknown air. */
import { describe, expect, test } from 'vitest';
import { FACT, flownIndex, makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { assertClose } from '../support/assert-close.ts';
import { type CellAt, LIGHT_ICE, makeCurtain, type TestCell, UNKNOWN } from './make-curtain.ts';

/** The facts of a whole curtain of one kind of cell, and the names of those that hold of it. */
const factsOf = (cell: TestCell) => makeCellFacts(makeCurtain(1, () => cell));
const namesOf = (cell: TestCell): string[] => {
  const answers = factsOf(cell).answers[7]!;
  return Object.entries(FACT).flatMap(([name, bit]) => ((answers & bit) === 0 ? [] : [name]));
};

describe('makeCellFacts', () => {
  test('dry air is known and nothing else', () => {
    expect(namesOf({})).toEqual(['known']);
  });

  test('of unknown air nothing holds, not even that it is known', () => {
    expect(namesOf(UNKNOWN)).toEqual([]);
    expect(namesOf({ ...LIGHT_ICE, state: CELL_STATE.tooOld })).toEqual([]);
    expect(namesOf({ ...LIGHT_ICE, icingProbability: Number.NaN })).toEqual([]);
    const { growthMps, iceRatio } = factsOf({ ...LIGHT_ICE, state: CELL_STATE.tooOld });
    expect([growthMps[7], iceRatio[7]]).toEqual([0, 0]);
  });

  test('a gap is unknown air over known air, or deep unknown air over the ground or the sea', () => {
    const gapTopFt = (cellAt: CellAt) => (makeCellFacts(makeCurtain(1, cellAt)).gapTop[0]! + 1) * 500;
    const unknownTo = (upperFt: number, lowerFt: number, cell: TestCell = {}) =>
      gapTopFt((_, middleFt) => (middleFt < lowerFt ? cell : middleFt < upperFt ? UNKNOWN : {}));
    expect(unknownTo(3000, 2500)).toBe(3000);
    expect(unknownTo(1500, 0)).toBe(0);
    expect(unknownTo(2000, 0)).toBe(2000);
    const ground = { state: CELL_STATE.belowGround };
    expect(unknownTo(6500, 5000, ground)).toBe(0);
    expect(unknownTo(7000, 5000, ground)).toBe(7000);
  });

  test('ground is ground', () => {
    expect(namesOf({ state: CELL_STATE.belowGround })).toEqual(['ground']);
  });

  test.each([
    [0.049, []],
    [0.051, ['mayHaveIce']],
    [0.149, ['mayHaveIce']],
    [0.151, ['mayHaveIce', 'hasIce']],
    [0.399, ['mayHaveIce', 'hasIce']],
    [0.401, ['mayHaveIce', 'hasIce', 'expectsIce']],
  ])(
    'ice of probability %f asks for a way out, is none, or makes a top: %j',
    (icingProbability, expected) => {
      expect(namesOf({ icingProbability })).toEqual(['known', ...expected]);
    },
  );

  test('named large drops are ice and a danger whatever its probability', () => {
    expect(namesOf({ largeDrops: LARGE_DROPS.icePellets })).toEqual([
      'known',
      'mayHaveIce',
      'hasIce',
      'expectsIce',
      'danger',
    ]);
  });

  test('severe is a danger in a tenth of the draws, or where ice is possible', () => {
    expect(namesOf({ icingProbability: 0.051, intensity: 4 })).toContain('danger');
    expect(namesOf({ icingProbability: 0.049, intensity: 4 })).not.toContain('danger');
    expect(namesOf({ icingProbability: 0.9, intensity: 3 })).not.toContain('danger');
  });

  test.each([
    [0.4, 4.9, ['separator']],
    [0.4, 5.1, []],
    [0.39, 4.9, []],
    [0.4, -0.1, ['separator']],
    [0.16, -0.1, []],
    [0.14, -0.1, []],
    [0.16, 0.1, []],
  ])('cloud of probability %f at %f degC asks for %j', (cloudProbability, temperatureC, expected) => {
    expect(namesOf({ cloudProbability, temperatureC })).toEqual(['known', ...expected]);
  });

  test('growth is the mean over all draws, those without ice included', () => {
    const { growthMps, iceRatio } = factsOf({ ...LIGHT_ICE, icingProbability: 0.6, growthMmPerMin: 0.6 });
    assertClose(growthMps[7]! * 60_000, 0.36, { rel: 1e-6, why: '32-bit columns' });
    assertClose(iceRatio[7]!, 0.6, { rel: 1e-6, why: '32-bit columns' });
  });
});

describe('flownIndex', () => {
  const hill: CellAt = (_, middleFt) => (middleFt < 1000 ? { state: CELL_STATE.belowGround } : {});
  const facts = makeCellFacts(makeCurtain(2, hill));

  test('is the cell itself in the air and the lowest air in the ground', () => {
    expect(flownIndex(facts, 1, 5)).toBe(60 + 5);
    expect([flownIndex(facts, 1, 0), flownIndex(facts, 1, 1)]).toEqual([60 + 2, 60 + 2]);
  });

  test('is none outside the axis, at no altitude, and in ground to the top', () => {
    expect([-1, 60, Number.NaN].map((cell) => flownIndex(facts, 1, cell))).toEqual([-1, -1, -1]);
    const allGround = makeCellFacts(makeCurtain(1, () => ({ state: CELL_STATE.belowGround })));
    expect(flownIndex(allGround, 0, 3)).toBe(-1);
  });
});
