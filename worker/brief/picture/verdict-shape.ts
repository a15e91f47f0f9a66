/** The four verdicts as shapes: open ring, half disc, full disc with a bar through it, hatched square. */
import type { VerdictCode } from '../../schema/brief.ts';
import { type Box, type Canvas, clippedTo, fillBox, fillDisc } from './canvas.ts';
import { COLOR, plain, unknownPaint } from './paints.ts';

const LINE_PX = 11;
const ink = plain(COLOR.ink);
const paper = plain(COLOR.paper);

/** In a square of which all is paper so far. */
export function drawVerdict(canvas: Canvas, square: Box, code: VerdictCode): void {
  SHAPES[code](canvas, square);
}

const SHAPES: Readonly<Record<VerdictCode, (canvas: Canvas, square: Box) => void>> = {
  'no-ice-found': drawRing,
  'within-limits': (canvas, square) => {
    drawRing(canvas, square);
    const lower = { ...square, top: (square.top + square.bottom) / 2 };
    fillDisc(clippedTo(canvas, lower), discIn(square, 0), ink);
  },
  'outside-limits': (canvas, square) => {
    fillDisc(canvas, discIn(square, LINE_PX), plain(COLOR.warn));
    const middle = (square.top + square.bottom) / 2;
    const bar = (halfPx: number) => ({ ...square, top: middle - halfPx, bottom: middle + halfPx });
    fillBox(canvas, bar(LINE_PX * 1.5), paper);
    fillBox(canvas, bar(LINE_PX * 0.75), plain(COLOR.warn));
  },
  unknown: (canvas, square) => {
    fillBox(canvas, square, ink);
    fillBox(canvas, inset(square, LINE_PX / 2), unknownPaint);
  },
};

function drawRing(canvas: Canvas, square: Box): void {
  fillDisc(canvas, discIn(square, 0), ink);
  fillDisc(canvas, discIn(square, LINE_PX), paper);
}

function discIn({ left, right, top, bottom }: Box, insetPx: number) {
  return { x: (left + right) / 2, y: (top + bottom) / 2, radiusPx: (right - left) / 2 - insetPx };
}

function inset({ left, right, top, bottom }: Box, byPx: number): Box {
  return { left: left + byPx, right: right - byPx, top: top + byPx, bottom: bottom - byPx };
}
