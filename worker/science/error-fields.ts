/**
 * Errors that change smoothly along the route and with height: each draw of a field is a sum of a few waves.
 *
 * A field has mean 0 and variance 1 everywhere, and its correlation falls with distance about as exp(-d / L).
 */
import { DRAW_COUNT } from './draw-numbers.ts';

/** Correlation lengths, m: errors of a forecast or an analysis keep their sign over about this much. */
const ALONG_M = 200_000;
const UP_M = 1000;

/**
 * Wave numbers times correlation length: the middles of four equally probable parts of the spectrum of exp(-d / L), a Cauchy
 * distribution. Along and up are paired so that no wave is slow or fast in both; signs alternate, so that errors lean
 * neither way.
 */
const SPECTRUM = [0.1989, 0.6682, 1.4966, 5.0273] as const;
const WAVES: readonly { readonly along: number; readonly up: number }[] = [
  { along: SPECTRUM[0], up: SPECTRUM[2] },
  { along: SPECTRUM[1], up: -SPECTRUM[0] },
  { along: SPECTRUM[2], up: SPECTRUM[1] },
  { along: SPECTRUM[3], up: -SPECTRUM[3] },
];

export const WAVE_COUNT = WAVES.length;

/** Numbers a draw needs for one field: a cosine and a sine for each wave. */
export const NUMBERS_PER_FIELD = 2 * WAVE_COUNT;

/** The waves at the points and cells of one curtain. */
export interface FieldBasis {
  /** [point][wave] and [cell][wave]. */
  readonly cosAlong: Float64Array;
  readonly sinAlong: Float64Array;
  readonly cosUp: Float64Array;
  readonly sinUp: Float64Array;
}

/**
 * @param distanceM  Of each point along the route, m.
 * @param heightM    Of each cell's middle, m.
 */
export function makeFieldBasis(distanceM: Float64Array, heightM: Float64Array): FieldBasis {
  const table = (places: Float64Array, angle: (placeM: number, wave: number) => number) =>
    Float64Array.from({ length: places.length * WAVE_COUNT }, (_, index) =>
      angle(places[Math.floor(index / WAVE_COUNT)]!, index % WAVE_COUNT),
    );
  const along = (placeM: number, wave: number) => (WAVES[wave]!.along * placeM) / ALONG_M;
  const up = (placeM: number, wave: number) => (WAVES[wave]!.up * placeM) / UP_M;
  return {
    cosAlong: table(distanceM, (placeM, wave) => Math.cos(along(placeM, wave))),
    sinAlong: table(distanceM, (placeM, wave) => Math.sin(along(placeM, wave))),
    cosUp: table(heightM, (placeM, wave) => Math.cos(up(placeM, wave))),
    sinUp: table(heightM, (placeM, wave) => Math.sin(up(placeM, wave))),
  };
}

/** One field of one draw over one point: what is left to be summed over height. */
export interface FieldOverPoint {
  readonly cosPart: Float64Array;
  readonly sinPart: Float64Array;
}

export function makeFieldOverPoint(): FieldOverPoint {
  return { cosPart: new Float64Array(WAVE_COUNT), sinPart: new Float64Array(WAVE_COUNT) };
}

/** Which numbers of which draw make a field: the number of its first dimension, see draw-numbers.ts. */
export interface FieldNumbers {
  readonly numbers: Float64Array;
  readonly dimension: number;
}

/**
 * Places a field over a point.
 *
 * @param basis  Of the curtain.
 * @param field  Its numbers.
 * @param at     Draw and point.
 * @param over   Filled.
 */
export function placeField(
  basis: FieldBasis,
  { numbers, dimension }: FieldNumbers,
  at: { readonly draw: number; readonly point: number },
  over: FieldOverPoint,
): void {
  for (let wave = 0; wave < WAVE_COUNT; wave += 1) {
    const a = numbers[(dimension + 2 * wave) * DRAW_COUNT + at.draw]!;
    const b = numbers[(dimension + 2 * wave + 1) * DRAW_COUNT + at.draw]!;
    const cos = basis.cosAlong[at.point * WAVE_COUNT + wave]!;
    const sin = basis.sinAlong[at.point * WAVE_COUNT + wave]!;
    over.cosPart[wave] = (a * cos + b * sin) / Math.sqrt(WAVE_COUNT);
    over.sinPart[wave] = (b * cos - a * sin) / Math.sqrt(WAVE_COUNT);
  }
}

/** @returns the field at a cell, in standard deviations. */
export function fieldAt(basis: FieldBasis, over: FieldOverPoint, cell: number): number {
  const first = cell * WAVE_COUNT;
  let sum = 0;
  for (let wave = 0; wave < WAVE_COUNT; wave += 1) {
    sum +=
      over.cosPart[wave]! * basis.cosUp[first + wave]! + over.sinPart[wave]! * basis.sinUp[first + wave]!;
  }
  return sum;
}

/** @returns a field that changes along the route alone, in standard deviations. */
export function fieldAlong(over: FieldOverPoint): number {
  let sum = 0;
  for (let wave = 0; wave < WAVE_COUNT; wave += 1) sum += over.cosPart[wave]!;
  return sum;
}
