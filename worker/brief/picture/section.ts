/** The cross-section: what the brief's own features say of air and ground, and the line that is to be filed. */
import type { Brief } from '../../schema/brief.ts';
import { type Box, type Canvas, clippedTo, fillBox } from './canvas.ts';
import { drawFiledLine } from './filed-line.ts';
import { drawWords, fitted, heightPxOf } from './letters.ts';
import { COLOR, paintOf, plain, unknownPaint } from './paints.ts';
import { type SectionScale, sectionScale } from './section-scale.ts';
import { feetText } from './words.ts';

const FRAME_PX = 4;
const TICK_PX = 12;
/** Depth of the hatching where no ground height is known. */
const UNKNOWN_GROUND_PX = 24;
/** Between ticks with figures, feet: the least that leaves room. */
const TICKS_FT = [2000, 5000, 10_000];
const MOST_TICK_FT = 20_000;
const TICK_APART_PX = 56;
/** Between the middles of the filed altitude and of another. */
const FIGURES_APART_PX = 44;
const TICK_SCALE = 3;
const FILED_SCALE = 5;
/** Between the plot and the figures right of it. */
const FIGURES_OFF_PX = 20;
/** Between the figures and the picture's edge, at least. */
const EDGE_PX = 20;

/** The plot in its box; the altitudes stand right of it. */
export function drawSection(canvas: Canvas, brief: Brief, plot: Box): void {
  const { left, top, right, bottom } = plot;
  const frame = {
    left: left - FRAME_PX,
    top: top - FRAME_PX,
    right: right + FRAME_PX,
    bottom: bottom + FRAME_PX,
  };
  fillBox(canvas, frame, plain(COLOR.ink));
  const scale = sectionScale(brief, plot);
  const inside = clippedTo(canvas, plot);
  drawAir(inside, brief, scale);
  drawGround(inside, brief, scale);
  drawFiledLine(inside, brief, scale);
  drawAltitudes(canvas, brief, scale);
}

/** Unknown all over first: only what a band covers can be anything else. */
function drawAir(canvas: Canvas, { features }: Brief, { plot, x, y }: SectionScale): void {
  fillBox(canvas, plot, unknownPaint);
  for (const { properties } of features) {
    if (properties.kind !== 'icing-band') continue;
    const { fromNm, toNm, lowerFt, upperFt } = properties;
    const box = { left: x(fromNm), right: x(toNm), top: y(upperFt), bottom: y(lowerFt) };
    fillBox(canvas, box, paintOf(properties));
  }
}

/** No ground known is not flat ground: the foot is hatched but for where a height is given. */
function drawGround(canvas: Canvas, { features }: Brief, { plot, x, y }: SectionScale): void {
  const grounds = features.flatMap(({ properties }) => (properties.kind === 'terrain' ? [properties] : []));
  const isKnown = new Uint8Array(canvas.widthPx);
  for (const { fromNm, toNm } of grounds)
    isKnown.fill(1, columnOf(canvas, x(fromNm)), columnOf(canvas, x(toNm)));
  for (let left = plot.left; left < plot.right; left += 1) {
    if (isKnown[left] === 1) continue;
    fillBox(canvas, { ...plot, left, right: left + 1, top: plot.bottom - UNKNOWN_GROUND_PX }, unknownPaint);
  }
  for (const { fromNm, toNm, heightFt } of grounds) {
    const box = { left: x(fromNm), right: x(toNm), top: y(heightFt), bottom: plot.bottom };
    fillBox(canvas, box, plain(COLOR.ground));
  }
}

function columnOf({ widthPx }: Canvas, x: number): number {
  return Math.min(widthPx, Math.max(0, Math.round(x)));
}

/** What is filed in large figures at its height, and round thousands where they leave it alone. */
function drawAltitudes(canvas: Canvas, { brief: { file } }: Brief, scale: SectionScale): void {
  const { plot, highestFt, y } = scale;
  const stepFt = TICKS_FT.find((step) => y(0) - y(step) >= TICK_APART_PX) ?? MOST_TICK_FT;
  const filedY = file === null ? Number.NaN : heldIn(plot, y(file.altitudeFt), FILED_SCALE);
  for (let feet = 0; feet <= highestFt; feet += stepFt) {
    const tickY = heldIn(plot, y(feet), TICK_SCALE);
    if (Math.abs(tickY - filedY) < FIGURES_APART_PX) continue;
    const tick = { left: plot.right, right: plot.right + TICK_PX, top: y(feet) - 2, bottom: y(feet) + 2 };
    fillBox(canvas, tick, plain(COLOR.ink));
    drawFigures(canvas, feet, { x: plot.right + FIGURES_OFF_PX, y: tickY, scale: TICK_SCALE });
  }
  if (file === null) return;
  drawFigures(canvas, file.altitudeFt, { x: plot.right + FIGURES_OFF_PX, y: filedY, scale: FILED_SCALE });
}

interface FiguresPlace {
  readonly x: number;
  /** Their middle. */
  readonly y: number;
  readonly scale: number;
}

function drawFigures(canvas: Canvas, altitudeFt: number, { x, y, scale }: FiguresPlace): void {
  const isFiled = scale === FILED_SCALE;
  // What is filed has its unit in the head.
  const text = isFiled ? feetText(altitudeFt) : `${feetText(altitudeFt)} FT`;
  const fitting = fitted(text, canvas.clip.right - x - EDGE_PX, {
    most: scale,
    least: TICK_SCALE,
  });
  const words = { ...fitting, boldPx: isFiled ? 2 : 0 };
  const color = isFiled ? COLOR.ink : COLOR.inkSoft;
  drawWords(canvas, words, { x, y: Math.round(y - heightPxOf(words) / 2), color });
}

/** The middle of figures beside the plot, moved so that they do not stand above or below it. */
function heldIn({ top, bottom }: Box, y: number, scale: number): number {
  const halfPx = heightPxOf({ text: '', scale }) / 2;
  return Math.min(bottom - halfPx, Math.max(top + halfPx, y));
}
