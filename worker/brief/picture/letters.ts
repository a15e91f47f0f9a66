/** Words in letters of whole pixels, enlarged by whole factors. */
import { type Canvas, fillBox } from './canvas.ts';
import { BLANK_BOX, GLYPH_ROWS, GLYPHS, type Glyph } from './glyphs.ts';
import { plain } from './paints.ts';

export interface Words {
  readonly text: string;
  /** Pixels of the picture to one of a letter. */
  readonly scale: number;
  /** Strokes are so much thicker than that. */
  readonly boldPx?: number;
}

export interface WordsPlace {
  readonly x: number;
  readonly y: number;
  /** Which side of the words x is; the left one unless given. */
  readonly side?: 'left' | 'right';
  readonly color: number;
}

const BETWEEN_LETTERS = 1;

export const heightPxOf = ({ scale }: Words): number => GLYPH_ROWS * scale;

export function widthPxOf({ text, scale }: Words): number {
  return scale * Math.max(0, columnsOf(glyphsOf(text)) - BETWEEN_LETTERS);
}

/**
 * As large as there is room for, and no larger than asked; what does not fit at the least size ends in a blank box, as
 * letters that cannot be shown do.
 */
export function fitted(text: string, widthPx: number, scales: { most: number; least: number }): Words {
  for (let scale = scales.most; scale >= scales.least; scale -= 1) {
    if (widthPxOf({ text, scale }) <= widthPx) return { text, scale };
  }
  const letters = Array.from(text);
  const cut = (count: number) => ({ text: `${letters.slice(0, count).join('')}\u2026`, scale: scales.least });
  let count = Math.min(letters.length, Math.floor(widthPx / scales.least));
  while (count > 0 && widthPxOf(cut(count)) > widthPx) count -= 1;
  return cut(count);
}

/** y is the upper edge. */
export function drawWords(canvas: Canvas, words: Words, { x, y, side = 'left', color }: WordsPlace): void {
  const paint = plain(color);
  const { scale, boldPx = 0 } = words;
  const dotPx = scale + boldPx;
  let left = side === 'left' ? x : x - widthPxOf(words);
  for (const { columns, ink } of glyphsOf(words.text)) {
    ink.forEach((hasInk, dot) => {
      if (!hasInk) return;
      const dotLeft = left + (dot % columns) * scale;
      const dotTop = y + Math.floor(dot / columns) * scale;
      fillBox(canvas, { left: dotLeft, top: dotTop, right: dotLeft + dotPx, bottom: dotTop + dotPx }, paint);
    });
    left += (columns + BETWEEN_LETTERS) * scale;
  }
}

function glyphsOf(text: string): Glyph[] {
  return Array.from(text.toUpperCase(), (letter) => GLYPHS.get(letter) ?? BLANK_BOX);
}

function columnsOf(glyphs: readonly Glyph[]): number {
  return glyphs.reduce((sum, { columns }) => sum + columns + BETWEEN_LETTERS, 0);
}
