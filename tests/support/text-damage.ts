/** Random damage to texts, the same for the same seed. */

/** Numbers in [0, 1) from a 32-bit linear congruential generator. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const LETTERS = '0123456789/-#=ABTXU \n9988777\u0001';

/** One to eight changes: a character replaced, lost or added, a stretch lost, doubled or moved, the end cut off. */
export function damaged(text: string, random: () => number): string {
  let result = text;
  const count = 1 + Math.floor(random() * 8);
  for (let change = 0; change < count; change += 1) result = damagedOnce(result, random);
  return result;
}

function damagedOnce(text: string, random: () => number): string {
  const at = Math.floor(random() * text.length);
  const length = Math.floor(random() * 40);
  const letter = LETTERS[Math.floor(random() * LETTERS.length)]!;
  const stretch = text.slice(at, at + length);
  const kinds = [
    () => text.slice(0, at) + letter + text.slice(at + 1),
    () => text.slice(0, at) + text.slice(at + 1),
    () => text.slice(0, at) + letter + text.slice(at),
    () => text.slice(0, at) + text.slice(at + length),
    () => text.slice(0, at) + stretch + text.slice(at),
    () => text.slice(0, at) + text.slice(at + length) + stretch,
    () => text.slice(0, at),
  ];
  return kinds[Math.floor(random() ** 2 * kinds.length)]!();
}
