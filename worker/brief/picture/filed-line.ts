/** The altitude to file as a bold line, with its climb and descent where the brief says how they are flown. */
import type { Brief } from '../../schema/brief.ts';
import { type Canvas, fillBox, fillDisc } from './canvas.ts';
import { COLOR, plain } from './paints.ts';
import type { SectionScale } from './section-scale.ts';

const PEN_PX = { halo: 9, line: 5, step: 2 };
const DASH_PX = { length: 14, gap: 10, thickness: 4 };

export function drawFiledLine(canvas: Canvas, brief: Brief, scale: SectionScale): void {
  const { file } = brief.brief;
  if (file === null) return;
  drawLeader(canvas, file.altitudeFt, scale);
  const path = filedPath(brief, file.altitudeFt, scale);
  for (const pen of ['halo', 'line'] as const) {
    const paint = plain(pen === 'halo' ? COLOR.paper : COLOR.ink);
    for (let index = 1; index < path.length; index += 1) {
      drawPiece(path[index - 1]!, path[index]!, (x, y) =>
        fillDisc(canvas, { x, y, radiusPx: PEN_PX[pen] }, paint),
      );
    }
  }
}

type Place = readonly [x: number, y: number];

/** Level from end to end where no path of that altitude is given. Held near the plot, so that no piece is endless. */
function filedPath({ brief: { leg, recommended } }: Brief, filedFt: number, scale: SectionScale): Place[] {
  const { plot, x, y } = scale;
  const flownFt = recommended?.altitudeFt === filedFt ? recommended.flownFt : null;
  if (flownFt === null || flownFt.length !== leg.points.length || flownFt.length < 2) {
    return [
      [plot.left, y(filedFt)],
      [plot.right, y(filedFt)],
    ];
  }
  const held = (value: number, low: number, high: number) =>
    Math.min(high + 2 * PEN_PX.halo, Math.max(low - 2 * PEN_PX.halo, value));
  return leg.points.map(
    ({ distanceNm }, point): Place => [
      held(x(distanceNm), plot.left, plot.right),
      held(y(flownFt[point]!), plot.top, plot.bottom),
    ],
  );
}

/** The pen set down every few pixels, or not at all where a place is no number. */
function drawPiece([fromX, fromY]: Place, [toX, toY]: Place, setDown: (x: number, y: number) => void): void {
  const lengthPx = Math.max(Math.abs(toX - fromX), Math.abs(toY - fromY));
  const steps = Math.ceil(lengthPx / PEN_PX.step);
  for (let step = 0; step <= steps; step += 1) {
    const part = steps === 0 ? 0 : step / steps;
    setDown(fromX + (toX - fromX) * part, fromY + (toY - fromY) * part);
  }
}

/** Dashes from the level to its figures at the edge, for the eye where the path has left it. */
function drawLeader(canvas: Canvas, altitudeFt: number, { plot, y }: SectionScale): void {
  const top = y(altitudeFt) - DASH_PX.thickness / 2;
  for (let left = plot.left; left < plot.right; left += DASH_PX.length + DASH_PX.gap) {
    const dash = { left, right: left + DASH_PX.length, top, bottom: top + DASH_PX.thickness };
    fillBox(canvas, dash, plain(COLOR.ink));
  }
}
