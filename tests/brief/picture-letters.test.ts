/** The letters of the picture: drawn as they are looked at, and bounded. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeCanvas } from '../../worker/brief/picture/canvas.ts';
import { drawWords, fitted, widthPxOf } from '../../worker/brief/picture/letters.ts';

/** Words at scale 1 as text, one row a line. */
function seen(text: string): string[] {
  const words = { text, scale: 1 };
  const width = widthPxOf(words);
  const canvas = makeCanvas(width, 8);
  drawWords(canvas, words, { x: 0, y: 0, color: 3 });
  return Array.from({ length: 8 }, (_, row) =>
    Array.from(canvas.pixels.subarray(row * width, (row + 1) * width), (color) =>
      color === 3 ? '#' : '.',
    ).join(''),
  );
}

const BOX = ['#####', '#...#', '#...#', '#...#', '#...#', '#...#', '#####', '.....'];

describe('letters', () => {
  it('stand side by side, one pixel apart, small ones as capitals', () => {
    expect(seen('t1,0')).toEqual([
      '#####...#.......##.',
      '..#....##......#..#',
      '..#.....#......#..#',
      '..#.....#......#..#',
      '..#.....#......#..#',
      '..#.....#...##.#..#',
      '..#....###...#..##.',
      '............#......',
    ]);
  });

  it('are all different, and none is the blank box', () => {
    const all = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.,:->/+'()"].map((letter) => seen(letter).join());
    expect(new Set([...all, BOX.join()]).size).toBe(46 + 1);
  });

  it.each(['Ä', '→', '字', '😀', '\n'])('is a blank box where there is none: %j', (letter) => {
    expect(seen(letter)).toEqual(BOX);
  });

  it('are enlarged by whole factors', () => {
    const canvas = makeCanvas(20, 21);
    drawWords(canvas, { text: 'I', scale: 3 }, { x: 20, y: 0, side: 'right', color: 3 });
    const row = (y: number) =>
      canvas.pixels
        .subarray(y * 20, (y + 1) * 20)
        .join('')
        .replaceAll('0', '.');
    expect([row(0), row(2), row(3), row(20)]).toEqual([
      '...........333333333',
      '...........333333333',
      '..............333...',
      '...........333333333',
    ]);
  });
});

describe('fitted', () => {
  it('takes the largest letters that fit, no larger than asked', () => {
    // By hand: four letters of five columns and three gaps are 23 columns.
    expect(fitted('KBTV', 1000, { most: 8, least: 3 })).toEqual({ text: 'KBTV', scale: 8 });
    expect(fitted('KBTV', 23 * 5, { most: 8, least: 3 }).scale).toBe(5);
    expect(fitted('KBTV', 23 * 5 - 1, { most: 8, least: 3 }).scale).toBe(4);
  });

  it('cuts what does not fit, and never says more than fits', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), fc.integer({ min: 30, max: 400 }), (text, widthPx) => {
        const words = fitted(text, widthPx, { most: 8, least: 3 });
        expect(widthPxOf(words)).toBeLessThanOrEqual(widthPx);
        if (words.text === text) return;
        expect(words.scale).toBe(3);
        expect(text.startsWith(words.text.slice(0, -1))).toBe(true);
        expect(seen(words.text.slice(-1))).toEqual(BOX);
      }),
    );
  });
});
