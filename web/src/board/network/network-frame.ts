/** Which part of the earth the plan of a network shows, and how it is moved. */
import { type Frame, frameOf, lonOffsetDeg } from '../../plan/mercator.ts';
import type { LonLat, PairLine } from './pairs.ts';

/** How the drawing is moved under the window: a pixel of the whole network times k, plus x and y. */
export interface View {
  readonly k: number;
  readonly x: number;
  readonly y: number;
}

export const WHOLE: View = { k: 1, x: 0, y: 0 };
const CLOSEST = 16;
export const ZOOM_STEP = 1.6;
const MARGIN_PX = 46;

export interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The whole network; undefined without a line to draw. */
export function networkFrame(pairs: readonly PairLine[], size: Size): Frame | undefined {
  const positions = extremes(pairs.flatMap(({ line }) => line));
  return positions === undefined ? undefined : frameOf(positions, { ...size, marginPx: MARGIN_PX });
}

/**
 * Five positions that have the same extent as all of them, the middle one nearest to the middle of the shortest arc around them: a
 * network across the antimeridian is one picture, and so is one that reaches further than half round from its first station.
 */
function extremes(positions: readonly LonLat[]): LonLat[] | undefined {
  if (positions.length === 0) return undefined;
  const middleDeg = middleOfArc(positions.map(([lonDeg]) => lonDeg));
  const most = new Map<string, { readonly value: number; readonly position: LonLat }>();
  const keep = (side: string, value: number, position: LonLat) => {
    const before = most.get(side);
    if (before === undefined || value > before.value) most.set(side, { value, position });
  };
  for (const position of positions) {
    const offsetDeg = lonOffsetDeg(position[0], middleDeg);
    keep('west', -offsetDeg, position);
    keep('south', -position[1], position);
    keep('middle', -Math.abs(offsetDeg), position);
    keep('north', position[1], position);
    keep('east', offsetDeg, position);
  }
  return [...most.values()].map(({ position }) => position);
}

/** Opposite of the widest gap, to a degree. */
function middleOfArc(lonsDeg: readonly number[]): number {
  const isTaken = new Uint8Array(360);
  for (const lonDeg of lonsDeg) isTaken[Math.floor(((lonDeg % 360) + 360) % 360)] = 1;
  let [gapDeg, endDeg, runDeg] = [0, 0, 0];
  // Twice round: a gap may begin before the first degree.
  for (let at = 0; at < 720; at++) {
    runDeg = isTaken[at % 360] === 1 ? 0 : runDeg + 1;
    if (runDeg > gapDeg) [gapDeg, endDeg] = [runDeg, at + 1];
  }
  return lonOffsetDeg(endDeg + (360 - gapDeg) / 2, 0);
}

export function zoomed(view: View, factor: number, size: Size): View {
  const k = Math.min(CLOSEST, Math.max(1, view.k * factor));
  const [midX, midY] = [size.widthPx / 2, size.heightPx / 2];
  const ratio = k / view.k;
  return kept({ k, x: midX - (midX - view.x) * ratio, y: midY - (midY - view.y) * ratio }, size);
}

export function moved(view: View, byX: number, byY: number, size: Size): View {
  return kept({ k: view.k, x: view.x + byX, y: view.y + byY }, size);
}

/** The network's picture always fills the window. */
function kept({ k, x, y }: View, { widthPx, heightPx }: Size): View {
  const between = (value: number, least: number) => Math.min(0, Math.max(least, value));
  return { k, x: between(x, widthPx * (1 - k)), y: between(y, heightPx * (1 - k)) };
}
