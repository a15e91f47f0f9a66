/** One step of the classical fourth-order Runge-Kutta method, for the solvers that check the formulas of the physics. */

/** Rates of change of a state, per unit of the running variable. */
export type Rates = (state: readonly number[], at: number) => readonly number[];

/** @returns the state one step on. */
export function rungeKuttaStep(
  rates: Rates,
  state: readonly number[],
  at: number,
  step: number,
): readonly number[] {
  const along = (slope: readonly number[], part: number) =>
    state.map((value, index) => value + part * slope[index]!);
  const first = rates(state, at);
  const second = rates(along(first, step / 2), at + step / 2);
  const third = rates(along(second, step / 2), at + step / 2);
  const fourth = rates(along(third, step), at + step);
  return state.map(
    (value, index) =>
      value + (step / 6) * (first[index]! + 2 * second[index]! + 2 * third[index]! + fourth[index]!),
  );
}

/** @returns the state after `steps` equal steps from one value of the running variable to another. */
export function integrate(
  rates: Rates,
  start: readonly number[],
  range: { readonly from: number; readonly to: number; readonly steps: number },
): readonly number[] {
  const step = (range.to - range.from) / range.steps;
  let state = start;
  for (let index = 0; index < range.steps; index += 1) {
    state = rungeKuttaStep(rates, state, range.from + index * step, step);
  }
  return state;
}
