/** Mutations of texts by their words: exchanged, inserted, dropped, doubled, moved, repeated. */
import type { Random } from './fuzz-target.ts';

/**
 * @param parts  Words that the format knows, put where they do not belong.
 * @param end    Matches the place after a word.
 */
export function mutateWords(
  seed: Uint8Array,
  random: Random,
  { parts, end }: { readonly parts: readonly string[]; readonly end: RegExp },
): Uint8Array {
  const words = Buffer.from(seed).toString('latin1').split(end);
  for (let count = 1 + random.below(4); count > 0; count -= 1) {
    const at = random.below(words.length);
    const part = parts[random.below(parts.length)]!;
    const kinds = [
      () => words.splice(at, 1, part),
      () => words.splice(at, 0, part),
      () => words.splice(at, 1),
      () => words.splice(at, 0, words[random.below(words.length)] ?? ''),
      () => words.splice(random.below(words.length), 0, ...words.splice(at, 3)),
      () => words.splice(at, 0, ...Array.from({ length: random.below(40) }, () => words[at] ?? part)),
    ];
    kinds[random.below(kinds.length)]!();
  }
  return Buffer.from(words.join(''), 'latin1');
}
