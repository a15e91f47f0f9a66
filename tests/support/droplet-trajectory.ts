/**
 * Paths of drops in the potential flow about a circular cylinder, integrated step by step: what the published fits of
 * collection efficiency stand for.
 *
 * Lengths in cylinder radii, speeds in the airspeed, the air moves toward +x. A drop is a point of mass: its own radius
 * is not counted, as in the tables of Langmuir and Blodgett. Gravity and compressibility are left out.
 */
import { rungeKuttaStep } from './runge-kutta.ts';

/** Drag over Stokes drag, CD Re / 24, of a sphere at the Reynolds number of its motion against the air. */
export type Drag = (reynolds: number) => number;

export const stokesDrag: Drag = () => 1;

/** Langmuir and Blodgett 1946, eq. 22, as quoted with its coefficients in a public reimplementation of their tables. */
export const langmuirBlodgettDrag: Drag = (reynolds) =>
  1 + 0.197 * reynolds ** 0.63 + 2.6e-4 * reynolds ** 1.38;

/** Schiller and Naumann 1935 (from memory), within a few per cent of the standard curve up to a Reynolds number of 1000. */
export const schillerNaumannDrag: Drag = (reynolds) => 1 + 0.15 * reynolds ** 0.687;

/** A drop size against a cylinder. */
export interface Encounter {
  /** K = rho_w D^2 V / (18 mu a), a the cylinder's radius. */
  readonly inertia: number;
  /** Reynolds number of the drop at the airspeed. */
  readonly reynolds: number;
  readonly drag: Drag;
  /** Multiplies every step; 1 unless the steps themselves are on trial. */
  readonly stepFactor?: number;
  /** Multiplies the distance at which paths start; 1 unless that is on trial. */
  readonly startFactor?: number;
}

const START_DISTANCE = 50;
const FINEST_STEP = 0.03;

/** Air velocity about the cylinder. */
function airVelocity(x: number, y: number): readonly [number, number] {
  const squared = x * x + y * y;
  return [1 - (x * x - y * y) / (squared * squared), (-2 * x * y) / (squared * squared)];
}

/** x, y and the two parts of velocity. */
type Drop = readonly [number, number, number, number];

/** Drag over mass, per unit of the velocity against the air. */
function responseRate(encounter: Encounter, [x, y, eastward, upward]: Drop): number {
  const [airX, airY] = airVelocity(x, y);
  const slip = Math.hypot(airX - eastward, airY - upward);
  return encounter.drag(encounter.reynolds * slip) / encounter.inertia;
}

function motion(encounter: Encounter, drop: Drop): Drop {
  const [x, y, eastward, upward] = drop;
  const [airX, airY] = airVelocity(x, y);
  const rate = responseRate(encounter, drop);
  return [eastward, upward, rate * (airX - eastward), rate * (airY - upward)];
}

function advance(encounter: Encounter, drop: Drop, step: number): Drop {
  return rungeKuttaStep((state) => motion(encounter, state as Drop), drop, 0, step) as Drop;
}

/** Short beside the flow's own scale and beside the drop's response. */
function stepFor(encounter: Encounter, drop: Drop): number {
  const distance = Math.hypot(drop[0], drop[1]);
  const ofFlow = Math.min(FINEST_STEP * distance ** 1.5, 0.1 * distance);
  return Math.min(ofFlow, 0.5 / responseRate(encounter, drop)) * (encounter.stepFactor ?? 1);
}

/**
 * On the streamline whose far height is `offset`, moving with the air; heavy drops, which streamlines do not carry, start
 * farther out.
 */
function release(encounter: Encounter, offset: number): Drop {
  const far = START_DISTANCE * Math.max(1, Math.sqrt(encounter.inertia)) * (encounter.startFactor ?? 1);
  const y = offset / (1 - 1 / (far * far));
  return [-far, y, ...airVelocity(-far, y)];
}

const isInside = ([x, y]: Drop): boolean => x * x + y * y <= 1;
const isLeaving = ([x, y, eastward, upward]: Drop): boolean => x * eastward + y * upward > 0;

/** The shortest step after which a condition holds that does not hold at once, but after `longest` does. */
function stepUntil(condition: (step: number) => boolean, longest: number): number {
  let before = 0;
  let after = longest;
  for (let halving = 0; halving < 40; halving += 1) {
    const middle = (before + after) / 2;
    if (condition(middle)) after = middle;
    else before = middle;
  }
  return after;
}

/** The longest step without a miss: up to the point of closest approach where that lies within `step`. */
function stepToClosest(encounter: Encounter, drop: Drop, step: number): number {
  const leaves = (part: number) => isLeaving(advance(encounter, drop, part));
  return leaves(step) ? stepUntil(leaves, step) : step;
}

/**
 * Follows one drop.
 *
 * @param offset  Its distance from the plane of symmetry far ahead, cylinder radii.
 * @returns       The angle at which it strikes, rad from the stagnation line; undefined when it passes.
 */
export function impactAngleRad(encounter: Encounter, offset: number): number | undefined {
  let drop = release(encounter, offset);
  for (let count = 0; count < 1_000_000; count += 1) {
    const step = stepToClosest(encounter, drop, stepFor(encounter, drop));
    const next = advance(encounter, drop, step);
    if (isInside(next)) {
      const start = drop;
      const crossing = stepUntil((part) => isInside(advance(encounter, start, part)), step);
      const [x, y] = advance(encounter, drop, crossing);
      return Math.atan2(y, -x);
    }
    if (isLeaving(next)) return undefined;
    drop = next;
  }
  throw new Error(`no end to the path from ${offset} at K ${encounter.inertia}`);
}

/** What a cylinder catches. */
export interface Catch {
  /** E: far height of the path that just touches. */
  readonly overall: number;
  /** beta0, see below. */
  readonly stagnation: number;
}

/** Far height of the path next to the stagnation line; where not even this strikes, nothing worth a number is caught. */
const NEIGHBOR = 1e-6;

/** @returns beta0: far height over length of surface, of a path next to the stagnation line; 0 when it passes. */
export function integrateStagnation(encounter: Encounter): number {
  const angleRad = impactAngleRad(encounter, NEIGHBOR);
  return angleRad === undefined ? 0 : NEIGHBOR / angleRad;
}

/** @returns both efficiencies, E to 2e-6. */
export function integrateCatch(encounter: Encounter): Catch {
  let striking = 0;
  let passing = 1.1;
  for (let halving = 0; halving < 19; halving += 1) {
    const middle = (striking + passing) / 2;
    if (impactAngleRad(encounter, middle) === undefined) passing = middle;
    else striking = middle;
  }
  return { overall: striking, stagnation: integrateStagnation(encounter) };
}
