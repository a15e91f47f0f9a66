/** How far a score could have come out otherwise, had other flights been flown: whole groups are drawn anew, never single rows. */

export interface Interval {
  readonly low: number;
  readonly high: number;
  /** Draws in which the score had a value. */
  readonly draws: number;
}

const DRAWS = 1000;
/** Ends of the interval that holds 95 %. */
const LOW = 0.025;
const HIGH = 0.975;

/**
 * Interval of a score when groups are drawn with replacement, as many as there are.
 *
 * @param groups  Rows that belong together (a flight, a profile).
 * @param score   Of all rows drawn; NaN is left out of the interval.
 * @param seed    Same seed, same interval.
 * @returns       2.5 and 97.5 % of 1000 draws.
 * @throws        never.
 */
export function bootstrapInterval<T>(
  groups: readonly (readonly T[])[],
  score: (rows: readonly T[]) => number,
  seed: number,
): Interval {
  const random = randomNumbers(seed);
  const scores = Array.from({ length: DRAWS }, () =>
    score(groups.flatMap(() => groups[Math.floor(random() * groups.length)]!)),
  )
    .filter((each) => !Number.isNaN(each))
    .sort((a, b) => a - b);
  const at = (share: number) => scores[Math.round(share * (scores.length - 1))] ?? Number.NaN;
  return { low: at(LOW), high: at(HIGH), draws: scores.length };
}

/** Rows by a key, in order of first appearance. */
export function groupsBy<T>(rows: readonly T[], key: (row: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(key(row));
    if (group === undefined) groups.set(key(row), [row]);
    else group.push(row);
  }
  return [...groups.values()];
}

/** Numbers of 0 to under 1 from a seed (Weyl sequence with a 32-bit mix, "mulberry32", public domain). */
function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
