/**
 * Contexts of the coefficients of a code block, by which of their eight neighbours are significant.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), annex D: tables D.1, D.3, D.4 and D.7.
 */
import type { Orientation } from './jpeg2000-subbands.ts';

/** Neighbours are counted in one octet: two bits beside, two above and below, three at the corners. */
export const NEIGHBOR = { beside: 1, upright: 4, corner: 16 } as const;
const NEIGHBORHOODS = 128;

export const CONTEXT = { sign: 9, refinement: 14, run: 17, uniform: 18, count: 19 } as const;
const FIRST_STATES: readonly (readonly [context: number, state: number])[] = [
  [0, 4],
  [CONTEXT.run, 3],
  [CONTEXT.uniform, 46],
];

/** Table D.7; a state and its more probable symbol are one number. */
export function freshContexts(): Uint8Array {
  const contexts = new Uint8Array(CONTEXT.count);
  for (const [context, state] of FIRST_STATES) contexts[context] = 2 * state;
  return contexts;
}

/** Table D.1: context of a significance for every neighbourhood. */
export function significanceContexts(orientation: Orientation): Uint8Array {
  return Uint8Array.from({ length: NEIGHBORHOODS }, (_, near) => {
    const beside = near & 3;
    const upright = (near >>> 2) & 3;
    const corners = near >>> 4;
    if (orientation === 'HH') return diagonalContext(beside + upright, corners);
    return orientation === 'HL'
      ? straightContext(upright, beside, corners)
      : straightContext(beside, upright, corners);
  });
}

function straightContext(first: number, second: number, corners: number): number {
  if (first === 2) return 8;
  if (first === 1) {
    if (second > 0) return 7;
    return corners > 0 ? 6 : 5;
  }
  return second > 0 ? 2 + second : Math.min(corners, 2);
}

function diagonalContext(straight: number, corners: number): number {
  if (corners > 2) return 8;
  if (corners === 2) return straight > 0 ? 7 : 6;
  return (corners === 1 ? 3 : 0) + Math.min(straight, 2);
}

/** Table D.3, by nine times... the sum of signs beside (-1 to 1) and of those above and below: context, and whether to flip. */
export function signContext(beside: number, upright: number): { context: number; flip: number } {
  const flip = beside < 0 || (beside === 0 && upright < 0) ? 1 : 0;
  const turned = flip === 1 ? -upright : upright;
  const context = beside === 0 ? Math.abs(upright) : 3 + turned;
  return { context: CONTEXT.sign + context, flip };
}
