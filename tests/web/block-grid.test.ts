import { describe, expect, it } from 'vitest';
import {
  type Block,
  type Edge,
  gridOfBlocks,
  labelRooms,
  outlineEdges,
} from '../../web/src/section/block-grid.ts';

/** Draws blocks as a picture, highest row first: one letter a cell of 10 NM by 1,000 ft, a dot where nothing is. */
function blocksOf(...rows: string[]): (Block & { readonly name: string })[] {
  return rows.flatMap((row, fromTop) =>
    [...row].flatMap((name, column) => {
      if (name === '.') return [];
      const lowerFt = (rows.length - 1 - fromTop) * 1000;
      return [{ name, fromNm: column * 10, toNm: column * 10 + 10, lowerFt, upperFt: lowerFt + 1000 }];
    }),
  );
}

const gridOf = (...rows: string[]) => gridOfBlocks(blocksOf(...rows), (block) => block.name);
const lengthOf = (edges: readonly Edge[]) =>
  edges.reduce((sum, edge) => sum + (edge.toNm - edge.fromNm) / 10 + (edge.toFt - edge.fromFt) / 1000, 0);

describe('outlineEdges', () => {
  it('draws four sides round one block', () => {
    expect(lengthOf(outlineEdges(gridOf('a')))).toBe(4);
  });

  it('draws no line between neighbors', () => {
    expect(lengthOf(outlineEdges(gridOf('aa', 'aa')))).toBe(8);
  });

  it('draws a hole', () => {
    expect(lengthOf(outlineEdges(gridOf('aaa', 'a.a', 'aaa')))).toBe(16);
  });

  it('has nothing to draw without blocks', () => {
    expect(outlineEdges(gridOf('.'))).toEqual([]);
  });
});

describe('labelRooms', () => {
  const area = (block: Block) => (block.toNm - block.fromNm) * (block.upperFt - block.lowerFt);

  it('finds the largest rectangle of an L', () => {
    expect(labelRooms(gridOf('a..', 'aaa', 'aaa'), area)).toEqual([
      { name: 'a', block: { fromNm: 0, toNm: 30, lowerFt: 0, upperFt: 2000 } },
    ]);
  });

  it('gives each region its own label, also two of one name', () => {
    expect(labelRooms(gridOf('a.a'), area).map((room) => room.block.fromNm)).toEqual([0, 20]);
  });

  it('does not join the start of one row with the end of the row below', () => {
    expect(labelRooms(gridOf('a..', 'a.a'), area)).toHaveLength(2);
  });

  it('does not join the end of one row with the start of the next', () => {
    expect(labelRooms(gridOf('b.a', 'abb'), area)).toHaveLength(4);
  });
});
