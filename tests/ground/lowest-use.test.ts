/** The lowest temperature that a fluid may be used at, against the worked example of TP 10643. */
import { expect, it } from 'vitest';
import { lowestUseC, warmestFreezingPointC } from '../../worker/ground/lowest-use.ts';

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
