import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tileBlocks } from '../../worker/brief/bands.ts';

const SEED = 20260114;

/** Cells as a picture: one string a level, top level first, one character a route point. */
function fromPicture(rows: readonly string[]): { category: Int32Array; points: number; cells: number } {
  const cells = rows.length;
  const points = rows[0]!.length;
  const category = new Int32Array(points * cells);
  for (let cell = 0; cell < cells; cell += 1) {
    for (let point = 0; point < points; point += 1) {
      category[point * cells + cell] = rows[cells - 1 - cell]!.charCodeAt(point);
    }
  }
  return { category, points, cells };
}

describe('tileBlocks', () => {
  it('gathers a deck that keeps its height into one rectangle', () => {
    const { category, points, cells } = fromPicture(['.....', '#####', '.....']);
    const deck = tileBlocks(category, points, cells).filter((block) => block.category === 35);
    expect(deck).toEqual([{ fromPoint: 0, toPoint: 4, lowerCell: 1, upperCell: 1, category: 35 }]);
  });

  it('breaks a rectangle where the deck steps up', () => {
    const { category, points, cells } = fromPicture(['...##', '##...', '.....']);
    const deck = tileBlocks(category, points, cells).filter((block) => block.category === 35);
    expect(deck.map((block) => [block.fromPoint, block.toPoint, block.lowerCell])).toEqual([
      [0, 1, 1],
      [3, 4, 2],
    ]);
  });

  it('tiles any curtain: every cell in exactly one block, of its own category', () => {
    const curtain = fc
      .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 9 }))
      .chain(([points, cells]) =>
        fc.record({
          points: fc.constant(points),
          cells: fc.constant(cells),
          values: fc.array(fc.integer({ min: -2, max: 2 }), {
            minLength: points * cells,
            maxLength: points * cells,
          }),
        }),
      );
    fc.assert(
      fc.property(curtain, ({ points, cells, values }) => {
        const seen = new Int32Array(points * cells);
        for (const block of tileBlocks(Int32Array.from(values), points, cells)) {
          for (let point = block.fromPoint; point <= block.toPoint; point += 1) {
            for (let cell = block.lowerCell; cell <= block.upperCell; cell += 1) {
              seen[point * cells + cell]! += 1;
              expect(values[point * cells + cell]).toBe(block.category);
            }
          }
        }
        expect(seen.every((count) => count === 1)).toBe(true);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});
