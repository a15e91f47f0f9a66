/** Which marks and identifiers of a network find room, the gravest line's first. */
import { type Along, type DrawnLine, type Px, placeAlong } from './lines.ts';
import type { Size, View } from './network-frame.ts';
import type { PairLine } from './pairs.ts';

export interface VerdictMark {
  readonly pair: PairLine;
  readonly at: Px;
  /** Where the arrow of the direction stands; undefined where flights go both ways, or the line is too short for one. */
  readonly arrow: Along | undefined;
}

export interface StationName {
  readonly name: string;
  readonly at: Px;
  /** Left lower corner of the text; undefined where there is no room for it. */
  readonly textAt: Px | undefined;
}

export interface NetworkMarks {
  readonly marks: readonly VerdictMark[];
  readonly stations: readonly StationName[];
}

export const MARK_PX = 18;
const LETTER_PX = 8.4;
const TEXT_PX = 13;
/** Where on a line its mark may stand: the middle, or beside another line's. */
const MARK_SHARES = [0.5, 0.42, 0.58, 0.34, 0.66];
const ARROW_SHARE = 0.8;
const ARROW_PX = 14;
const SHORTEST_FOR_ARROW_PX = 70;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** @param lines  In the order in which they are to have room. */
export function networkMarks(
  lines: readonly DrawnLine[],
  view: View,
  size: Size,
  selected: string | undefined,
): NetworkMarks {
  const room = new Room(size);
  const first = lines.filter(({ pair }) => pair.key === selected);
  const ordered = [...first, ...lines.filter(({ pair }) => pair.key !== selected)];
  const stations = stationsOf(ordered, view);
  const chosen = stations.slice(0, first.length * 2).map((station) => named(station, room));
  const marks = ordered.flatMap((line) => verdictMarks(line, view, room));
  for (const { at } of stations) room.take(boxAround(at, 5));
  return {
    marks,
    stations: [...chosen, ...stations.slice(chosen.length).map((station) => named(station, room))],
  };
}

/** Each identifier once, those of the gravest lines first. */
function stationsOf(lines: readonly DrawnLine[], view: View): { name: string; at: Px }[] {
  const stations = new Map<string, Px>();
  for (const { pair, runs } of lines) {
    const [run] = runs;
    const [start, end] = [run?.[0], run?.at(-1)];
    if (start && !stations.has(pair.from)) stations.set(pair.from, onWindow(start, view));
    if (end && !stations.has(pair.to)) stations.set(pair.to, onWindow(end, view));
  }
  return [...stations].map(([name, at]) => ({ name, at }));
}

function verdictMarks({ pair, runs }: DrawnLine, view: View, room: Room): VerdictMark[] {
  const count = pair.flights.length;
  const countPx = count > 1 ? LETTER_PX * (String(count).length + 0.6) : 0;
  return runs.flatMap((run) => {
    const at = MARK_SHARES.map((share) => placeAlong(run, share))
      .flatMap((place) => (place === undefined ? [] : [onWindow(place.at, view)]))
      .find((place) => {
        const box = boxAround(place, MARK_PX / 2 + 1);
        return room.takeFree({ ...box, width: box.width + countPx });
      });
    if (at === undefined) return [];
    return [{ pair, at, arrow: pair.isOneWay ? arrowOn(run, view, room) : undefined }];
  });
}

function arrowOn(run: readonly Px[], view: View, room: Room): Along | undefined {
  const [start, end] = [run[0], run.at(-1)];
  if (start === undefined || end === undefined) return undefined;
  if (Math.hypot(end[0] - start[0], end[1] - start[1]) * view.k < SHORTEST_FOR_ARROW_PX) return undefined;
  const place = placeAlong(run, ARROW_SHARE);
  if (place === undefined) return undefined;
  const at = onWindow(place.at, view);
  return room.takeFree(boxAround(at, ARROW_PX / 2)) ? { ...place, at } : undefined;
}

/** Right of its point, or left, above, below: wherever there is room. */
function named({ name, at }: { name: string; at: Px }, room: Room): StationName {
  const width = name.length * LETTER_PX;
  const [x, y] = at;
  const corners: Px[] = [
    [x + 8, y + TEXT_PX / 2 - 2],
    [x - 8 - width, y + TEXT_PX / 2 - 2],
    [x - width / 2, y - 9],
    [x - width / 2, y + TEXT_PX + 7],
  ];
  const textAt = corners.find(([left, base]) =>
    room.takeFree({ x: left, y: base - TEXT_PX + 2, width, height: TEXT_PX }),
  );
  return { name, at, textAt };
}

function onWindow([x, y]: Px, { k, x: byX, y: byY }: View): Px {
  return [x * k + byX, y * k + byY];
}

function boxAround([x, y]: Px, halfPx: number): Box {
  return { x: x - halfPx, y: y - halfPx, width: 2 * halfPx, height: 2 * halfPx };
}

/** What is taken of the window, kept by the cells of a coarse grid: a full one is asked thousands of times. */
class Room {
  readonly #taken = new Map<string, Box[]>();
  readonly #size: Size;

  constructor(size: Size) {
    this.#size = size;
  }

  take(box: Box): void {
    if (!this.#isInside(box)) return;
    for (const cell of cellsOf(box)) {
      const boxes = this.#taken.get(cell);
      if (boxes === undefined) this.#taken.set(cell, [box]);
      else boxes.push(box);
    }
  }

  /** False where it is taken already, or beyond the window's edge. */
  takeFree(box: Box): boolean {
    if (!this.#isInside(box)) return false;
    for (const cell of cellsOf(box))
      if (this.#taken.get(cell)?.some((other) => overlaps(box, other))) return false;
    this.take(box);
    return true;
  }

  #isInside({ x, y, width, height }: Box): boolean {
    return x >= 0 && y >= 0 && x + width <= this.#size.widthPx && y + height <= this.#size.heightPx;
  }
}

const CELL_PX = 48;

function cellsOf({ x, y, width, height }: Box): string[] {
  const cells: string[] = [];
  for (let column = Math.floor(x / CELL_PX); column <= Math.floor((x + width) / CELL_PX); column++)
    for (let row = Math.floor(y / CELL_PX); row <= Math.floor((y + height) / CELL_PX); row++)
      cells.push(`${column} ${row}`);
  return cells;
}

function overlaps(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}
