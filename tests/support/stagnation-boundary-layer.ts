/**
 * Heat transfer at the stagnation line of a cylinder from the laminar boundary layer equations, integrated: the flow of
 * Hiemenz 1911, which near the line is exact, in the outer flow of speed 4 V s / D.
 */
import { integrate } from './runge-kutta.ts';

const EDGE = 8;
const STEPS = 200;

/** f, f', f'' and the heat integral's exponent, over the distance from the wall: f''' = f'^2 - f f'' - 1. */
function layer(state: readonly number[]): readonly number[] {
  const [stream, speed, shear] = state as readonly [number, number, number];
  return [speed, shear, speed * speed - stream * shear - 1];
}

/** Wall shear with which the speed meets the outer flow. */
function wallShear(): number {
  let low = 1;
  let high = 1.5;
  for (let halving = 0; halving < 50; halving += 1) {
    const middle = (low + high) / 2;
    const [, speed] = integrate(layer, [0, 0, middle], { from: 0, to: 5, steps: 250 });
    if (speed! > 1) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

const SHEAR = wallShear();

/**
 * @param prandtl  Of the air.
 * @returns        Nusselt number on the diameter over the root of the Reynolds number on it.
 */
export function stagnationNusseltOverRootReynolds(prandtl: number): number {
  // State: f, f', f'', integral of f, integral of exp(-Pr integral of f). Beyond the edge the last no longer grows.
  const rates = (state: readonly number[]) => [
    ...layer(state.slice(0, 3)),
    state[0]!,
    Math.exp(-prandtl * state[3]!),
  ];
  const end = integrate(rates, [0, 0, SHEAR, 0, 0], { from: 0, to: EDGE, steps: STEPS });
  return 2 / end[4]!;
}
