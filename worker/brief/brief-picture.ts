/** A brief as one picture, for previews of its link: leg, verdict, the altitude to file, and the cross-section that proves it. */
import type { Brief } from '../schema/brief.ts';
import { type Canvas, fillBox, makeCanvas } from './picture/canvas.ts';
import { indexedPng } from './picture/indexed-png.ts';
import { drawWords, fitted, heightPxOf, widthPxOf } from './picture/letters.ts';
import { COLOR, PALETTE, plain } from './picture/paints.ts';
import { drawSection } from './picture/section.ts';
import { drawVerdict } from './picture/verdict-shape.ts';
import {
  cautionText,
  departureText,
  fileText,
  inventedText,
  legText,
  VERDICT_WORDS,
} from './picture/words.ts';

/** What pages that show previews ask for (Open Graph). */
export const PICTURE_WIDTH_PX = 1200;
export const PICTURE_HEIGHT_PX = 630;

const EDGE_PX = 44;
const RIGHT_PX = PICTURE_WIDTH_PX - EDGE_PX;
/** Where the words beside the verdict's shape begin. */
const BESIDE_SHAPE_PX = 192;
const SHAPE = { left: EDGE_PX, top: 108, right: EDGE_PX + 122, bottom: 230 };
const PLOT = { left: EDGE_PX + 4, top: 256, right: 966, bottom: 552 };
const FOOT_TOP_PX = 574;

/**
 * The same brief and time give the same bytes.
 *
 * @param madeUtc  When the brief was made.
 * @returns a PNG file, 1200 x 630 pixels.
 */
export function briefPicture(brief: Brief, madeUtc: string): Promise<Uint8Array> {
  const canvas = makeCanvas(PICTURE_WIDTH_PX, PICTURE_HEIGHT_PX);
  fillBox(canvas, canvas.clip, plain(COLOR.paper));
  drawHead(canvas, brief);
  drawVerdict(canvas, SHAPE, brief.brief.verdict.code);
  drawSection(canvas, brief, PLOT);
  drawFoot(canvas, madeUtc);
  return indexedPng({
    ...{ widthPx: PICTURE_WIDTH_PX, heightPx: PICTURE_HEIGHT_PX },
    ...{ pixels: canvas.pixels, palette: PALETTE },
  });
}

function drawHead(canvas: Canvas, brief: Brief): void {
  const departure = fitted(departureText(brief), 440, { most: 4, least: 4 });
  drawWords(canvas, departure, { x: RIGHT_PX, y: 32, side: 'right', color: COLOR.ink });
  const leg = fitted(legText(brief), 680, { most: 8, least: 3 });
  drawWords(canvas, leg, { x: EDGE_PX, y: 84 - heightPxOf(leg), color: COLOR.ink });
  const file = fitted(fileText(brief), RIGHT_PX - BESIDE_SHAPE_PX, { most: 10, least: 4 });
  drawWords(
    canvas,
    { ...file, boldPx: 4 },
    { x: BESIDE_SHAPE_PX, y: 178 - heightPxOf(file), color: COLOR.ink },
  );
  const { code } = brief.brief.verdict;
  const verdict = { text: VERDICT_WORDS[code], scale: 5 };
  const color = code === 'outside-limits' ? COLOR.warn : COLOR.ink;
  drawWords(canvas, verdict, { x: BESIDE_SHAPE_PX, y: 198, color });
  const invented = inventedText(brief);
  if (invented !== undefined) drawInvented(canvas, invented);
}

/** Made up, said where nobody can take the picture for the weather. */
function drawInvented(canvas: Canvas, text: string): void {
  const words = { text, scale: 4 };
  const box = { left: RIGHT_PX - widthPxOf(words) - 24, right: RIGHT_PX, top: 194, bottom: 242 };
  fillBox(canvas, box, plain(COLOR.warn));
  drawWords(canvas, words, { x: RIGHT_PX - 12, y: 204, side: 'right', color: COLOR.paper });
}

function drawFoot(canvas: Canvas, madeUtc: string): void {
  fillBox(canvas, { ...canvas.clip, top: FOOT_TOP_PX }, plain(COLOR.ink));
  const words = fitted(cautionText(madeUtc), RIGHT_PX - EDGE_PX, { most: 4, least: 3 });
  drawWords(canvas, words, { x: EDGE_PX, y: FOOT_TOP_PX + 14, color: COLOR.paper });
}
