/** Where each line of a network lies in the drawing, in pixels of the whole network. */
import { type Frame, runsInFrame } from '../../plan/mercator.ts';
import type { View } from './network-frame.ts';
import type { PairLine } from './pairs.ts';

export type Px = readonly [number, number];

export interface DrawnLine {
  readonly pair: PairLine;
  /** Once for every turn around the world that shows it. */
  readonly runs: readonly (readonly Px[])[];
}

/** Finer than this nobody sees. */
const STEP_PX = 2;

export function drawnLines(pairs: readonly PairLine[], frame: Frame): DrawnLine[] {
  return pairs.map((pair) => ({
    pair,
    runs: runsInFrame(frame, pair.line).map((run) =>
      thinned(run.map(([offsetDeg, latDeg]) => frame.pxOfOffset(offsetDeg, latDeg))),
    ),
  }));
}

/** Without the points that follow within a step; both ends stay. */
function thinned(run: readonly Px[]): Px[] {
  const kept: Px[] = [];
  for (const [at, point] of run.entries()) {
    const last = kept.at(-1);
    const isEnd = at === run.length - 1;
    if (last === undefined || isEnd || distancePx(last, point) >= STEP_PX) kept.push(point);
  }
  return kept;
}

export function pathOf(lines: readonly DrawnLine[]): string {
  const parts: string[] = [];
  for (const { runs } of lines)
    for (const run of runs)
      parts.push(
        `M${run.map(([x, y]) => `${Math.round(x * 10) / 10} ${Math.round(y * 10) / 10}`).join('L')}`,
      );
  return parts.join('');
}

export interface Along {
  readonly at: Px;
  /** Of the line there, degrees clockwise from the right. */
  readonly angleDeg: number;
}

/** A place on a line. @param share  0 its beginning, 1 its end. */
export function placeAlong(run: readonly Px[], share: number): Along | undefined {
  const lengths = run.slice(1).map((point, at) => distancePx(run[at]!, point));
  let left = lengths.reduce((sum, length) => sum + length, 0) * share;
  for (const [at, length] of lengths.entries()) {
    const [from, to] = [run[at]!, run[at + 1]!];
    if (left <= length || at === lengths.length - 1) {
      const part = length === 0 ? 0 : Math.min(1, left / length);
      return {
        at: [from[0] + (to[0] - from[0]) * part, from[1] + (to[1] - from[1]) * part],
        angleDeg: (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI,
      };
    }
    left -= length;
  }
  return undefined;
}

/** The line under a finger. @param point  Of the window. */
export function lineAt(
  lines: readonly DrawnLine[],
  [x, y]: Px,
  view: View,
  reachPx: number,
): DrawnLine | undefined {
  const point: Px = [(x - view.x) / view.k, (y - view.y) / view.k];
  let found: DrawnLine | undefined;
  let nearestPx = reachPx / view.k;
  for (const line of lines) {
    const distance = Math.min(...line.runs.map((run) => distanceToRun(point, run)));
    if (distance < nearestPx) [found, nearestPx] = [line, distance];
  }
  return found;
}

function distanceToRun(point: Px, run: readonly Px[]): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (let at = 1; at < run.length; at++)
    nearest = Math.min(nearest, distanceToPiece(point, run[at - 1]!, run[at]!));
  return nearest;
}

function distanceToPiece([x, y]: Px, [x1, y1]: Px, [x2, y2]: Px): number {
  const [dx, dy] = [x2 - x1, y2 - y1];
  const square = dx * dx + dy * dy;
  const part = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - x1) * dx + (y - y1) * dy) / square));
  return Math.hypot(x - x1 - part * dx, y - y1 - part * dy);
}

function distancePx([x1, y1]: Px, [x2, y2]: Px): number {
  return Math.hypot(x2 - x1, y2 - y1);
}
