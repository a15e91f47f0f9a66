/** The lowest temperature that a fluid may be used at, against the worked example of TP 10643. */
import { describe, expect, it } from 'vitest';
import type { Holdover } from '../../worker/ground/holdover.ts';
import {
  lowestUseC,
  type UseAir,
  warmestFreezingPointC,
  withinLowestUse,
} from '../../worker/ground/lowest-use.ts';

it.each([
  // Looked up: Transport Canada's own example; it must not be used at -39 °C.
  ['I', -45, -43, -33],
  // Computed from the rule.
  ['IV', -30, -36, -29],
  ['I', -26, -44, -26],
] as const)(
  'Type %s, aerodynamic limit %d °C, freezing at %d °C: %d °C',
  (type, aerodynamicLimitC, freezingPointC, lowest) => {
    expect(lowestUseC({ type, aerodynamicLimitC, freezingPointC })).toBe(lowest);
  },
);

it('Type I at -12 °C may freeze at -22 °C at the warmest (computed)', () => {
  expect(warmestFreezingPointC('I', -12)).toBe(-22);
});

describe('a holdover with the lowest use temperature of its fluid', () => {
  const WINDOW: Holdover = { kind: 'window', minimumMinutes: 20, maximumMinutes: 40 };
  const air = (coldestC: number, more: Partial<UseAir> = {}): UseAir => ({
    temperature: { warmestC: coldestC + 1, coldestC },
    windKt: 15,
    isSkyClear: false,
    isColdSoaked: false,
    isFrost: false,
    ...more,
  });

  // Computed from the rule of the Type IV row above: usable at -29 °C, not at -29.1.
  it('keeps its window at the temperature itself, and has none a tenth below', () => {
    expect(withinLowestUse(WINDOW, -29, air(-29))).toBe(WINDOW);
    expect(withinLowestUse(WINDOW, -29, air(-29.1))).toEqual({
      kind: 'none',
      why: 'the air may have -29.1 °C, below the lowest operational use temperature of -29 °C: not this fluid',
    });
  });

  it('is left as it is where nobody has said the temperature, of fluid or air', () => {
    expect(withinLowestUse(WINDOW, undefined, air(-40))).toBe(WINDOW);
    expect(withinLowestUse(WINDOW, -29, { ...air(-40), temperature: undefined })).toBe(WINDOW);
  });

  // Judgements of frost.ts: 8 K for cold fuel, 5 K under a clear calm sky, 2 K else.
  it.each([
    ['cold-soaked', { isColdSoaked: true }, -20.9, -21],
    ['in frost under a clear, calm sky', { isFrost: true, isSkyClear: true, windKt: 3 }, -23.9, -24],
    ['in frost in wind', { isFrost: true }, -26.9, -27],
  ] as const)('has none where the skin may be colder: %s', (_, more, usableC, tooColdC) => {
    expect(withinLowestUse(WINDOW, -29, air(usableC, more))).toBe(WINDOW);
    expect(withinLowestUse(WINDOW, -29, air(tooColdC - 0.1, more))).toMatchObject({
      kind: 'none',
      why: expect.stringMatching(/^the skin may have -29\.1 °C, below/),
    });
  });

  const OTHERS: readonly Holdover[] = [
    { kind: 'none', why: 'heavy snow' },
    { kind: 'unknown', why: 'nobody looked' },
    { kind: 'not-asked' },
  ];

  it('makes no time of what was none, however cold the fluid may be used', () => {
    for (const other of OTHERS) expect(withinLowestUse(other, -60, air(5))).toBe(other);
  });

  it('says no to a fluid that is not for such air also where nothing falls, and keeps a reason that stands', () => {
    const [none, ...rest] = OTHERS as [Holdover, ...Holdover[]];
    expect(withinLowestUse(none, -29, air(-35))).toBe(none);
    for (const other of rest) expect(withinLowestUse(other, -29, air(-35)).kind).toBe('none');
  });
});
