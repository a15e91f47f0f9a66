import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type RoundedQuantity, rounded, roundedOrNull } from '../../worker/flight/rounding.ts';
import { feet, hazardMinutes, withThousands } from '../../worker/flight/words.ts';

describe('rounded', () => {
  test.each([
    [42, 'hazardMinutes', 'screen', 40],
    [43, 'hazardMinutes', 'screen', 45],
    [0.01, 'hazardMinutes', 'screen', 5],
    [0, 'hazardMinutes', 'screen', 0],
    [0.01, 'hazardMinutes', 'api', 0.1],
    [61.4, 'timeMinutes', 'screen', 61],
    [9240, 'weatherFt', 'screen', 9000],
    [9260, 'weatherFt', 'screen', 9500],
    [1499, 'marginFt', 'screen', 1000],
    [499, 'marginFt', 'screen', 0],
    [60.1, 'fluidL', 'screen', 65],
    [60, 'fluidL', 'screen', 60],
    [60.04, 'fluidL', 'api', 60],
    [60.04, 'fluidL', 'screen', 60],
    [20.04, 'mostMinutes', 'screen', 20],
    [20.06, 'mostMinutes', 'screen', 25],
    [0.2, 'builtMm', 'screen', 1],
    [0.1 * 3, 'builtMm', 'api', 0.3],
    [-9.96, 'temperatureC', 'api', -10],
    [-0.2, 'temperatureC', 'screen', 0],
    [0.004, 'probability', 'api', 0.01],
  ] as const)('%f of %s on the %s is %f', (value, quantity, edge, expected) => {
    expect(rounded(value, quantity, edge)).toBe(expected);
  });

  test('never gives -0', () => {
    expect(Object.is(rounded(-0.2, 'temperatureC', 'screen'), -0)).toBe(false);
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY])(
    'refuses %f: unknown has to be said by a state',
    (value) => {
      expect(() => rounded(value, 'timeMinutes', 'api')).toThrowError(
        expect.objectContaining({ kind: 'bug' }),
      );
    },
  );

  test('says on the screen what follows from the figure of the API', () => {
    const quantities: RoundedQuantity[] = [
      'hazardMinutes',
      'mostMinutes',
      'fluidL',
      'builtMm',
      'marginFt',
      'weatherFt',
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...quantities),
        fc.integer({ min: 0, max: 50_000 }).map((hundredths) => hundredths / 100),
        (quantity, value) => {
          expect(rounded(value, quantity, 'screen')).toBe(
            rounded(rounded(value, quantity, 'api'), quantity, 'screen'),
          );
        },
      ),
      { seed: 6, numRuns: 2000 },
    );
  });

  test('keeps order, and something never becomes nothing where it counts', () => {
    const quantities: RoundedQuantity[] = ['hazardMinutes', 'fluidL', 'builtMm', 'timeMinutes', 'marginFt'];
    fc.assert(
      fc.property(
        fc.constantFrom(...quantities),
        fc.constantFrom('screen' as const, 'api' as const),
        fc.double({ min: 0, max: 20000, noNaN: true }),
        fc.double({ min: 0, max: 500, noNaN: true }),
        (quantity, edge, value, more) => {
          expect(rounded(value + more, quantity, edge)).toBeGreaterThanOrEqual(
            rounded(value, quantity, edge),
          );
          const isHazard = quantity !== 'timeMinutes' && quantity !== 'marginFt';
          if (isHazard && value > 0) expect(rounded(value, quantity, edge)).toBeGreaterThan(0);
        },
      ),
      { seed: 5 },
    );
  });

  test('what is rounded once stays', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 2000, noNaN: true }), (value) => {
        const once = rounded(value, 'fluidL', 'api');
        expect(rounded(once, 'fluidL', 'api')).toBe(once);
      }),
      { seed: 6 },
    );
  });
});

describe('roundedOrNull', () => {
  test('gives null for what is unknown', () => {
    expect([roundedOrNull(Number.NaN, 'speedKt', 'api'), roundedOrNull(12.4, 'speedKt', 'api')]).toEqual([
      null,
      12,
    ]);
  });
});

describe('words', () => {
  test('altitudes have their thousands apart', () => {
    expect([feet(3352.8), feet(274.32), withThousands(-1234567.5)]).toEqual([
      '11,000 ft',
      '900 ft',
      '-1,234,567.5',
    ]);
  });

  test('minutes of something go in fives and never read as nothing', () => {
    expect([hazardMinutes(0), hazardMinutes(20), hazardMinutes(2400)]).toEqual(['0 min', '5 min', '40 min']);
  });
});
