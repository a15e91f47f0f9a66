/** Indices of colors, and the two shapes that everything else is drawn with. Nothing is drawn outside the clip. */
import type { Paint } from './paints.ts';

/** Edges in pixels; right and bottom are the first that are outside. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Canvas {
  readonly widthPx: number;
  /** Row by row, the upper left pixel first. */
  readonly pixels: Uint8Array;
  /** Within the picture. */
  readonly clip: Box;
}

export function makeCanvas(widthPx: number, heightPx: number): Canvas {
  const clip = { left: 0, top: 0, right: widthPx, bottom: heightPx };
  return { widthPx, pixels: new Uint8Array(widthPx * heightPx), clip };
}

/** The same pixels, of which only some may be drawn on. */
export function clippedTo(canvas: Canvas, box: Box): Canvas {
  return { ...canvas, clip: boundedBy(canvas.clip, box) };
}

function boundedBy(clip: Box, box: Box): Box {
  return {
    left: Math.max(clip.left, Math.round(box.left)),
    top: Math.max(clip.top, Math.round(box.top)),
    right: Math.min(clip.right, Math.round(box.right)),
    bottom: Math.min(clip.bottom, Math.round(box.bottom)),
  };
}

/** Edges are rounded to whole pixels; with one that is no number nothing is drawn. */
export function fillBox({ widthPx, pixels, clip }: Canvas, box: Box, { sidePx, colors }: Paint): void {
  const { left, top, right, bottom } = boundedBy(clip, box);
  for (let y = top; y < bottom; y += 1) {
    const row = y * widthPx;
    const patternRow = (y % sidePx) * sidePx;
    let across = left % sidePx;
    for (let x = left; x < right; x += 1) {
      pixels[row + x] = colors[patternRow + across]!;
      across += 1;
      if (across === sidePx) across = 0;
    }
  }
}

export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly radiusPx: number;
}

export function fillDisc(canvas: Canvas, { x, y, radiusPx }: Disc, paint: Paint): void {
  for (let rowPx = -Math.ceil(radiusPx); rowPx <= radiusPx; rowPx += 1) {
    const halfPx = Math.sqrt(radiusPx * radiusPx - rowPx * rowPx);
    fillBox(canvas, { left: x - halfPx, right: x + halfPx, top: y + rowPx, bottom: y + rowPx + 1 }, paint);
  }
}
