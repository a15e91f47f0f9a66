/** Lists as JSON texts of a size that D1 binds. */

/** Far under what D1 takes as one value. */
const MOST_CHARACTERS = 500_000;

/** JSON arrays of all items in their order, none of which is longer than that unless one item alone is. */
export function jsonBatches(items: readonly unknown[]): string[] {
  const batches: string[][] = [];
  let characters = Number.POSITIVE_INFINITY;
  for (const item of items) {
    const text = JSON.stringify(item);
    characters += text.length + 1;
    if (characters > MOST_CHARACTERS) {
      batches.push([]);
      characters = text.length + 1;
    }
    batches.at(-1)!.push(text);
  }
  return batches.map((texts) => `[${texts.join(',')}]`);
}
