/** The square cells of the Web Mercator plane that a stretch of a corridor touches: map tiles, or blocks of their pixels. */
import {
  MEAN_EARTH_RADIUS_M,
  type Position,
  positionsBetween,
  RAD_PER_DEG,
} from '../science/great-circle.ts';
import { latDegFromWorldY, worldSideM, worldXFromLonDeg, worldYFromLatDeg } from '../science/web-mercator.ts';
import type { TerrainStretch } from './terrain-stretch.ts';

/** Lines are cut into pieces no longer, so that a plane about the middle of one is true to the margin below. */
const LONGEST_PIECE_M = 10_000;
/** What the plane may shorten over 200 km up to the latitude below; the half-width grows by it, so that no cell is missed. */
const PLANE_MARGIN = 1.03;
/** Beyond it cells are not told, and the ground is unknown. */
export const NORTHMOST_DEG = 75;

export interface Cell {
  /** In [0, cellsPerSide), also across the antimeridian. */
  readonly column: number;
  readonly row: number;
}

/**
 * Every cell that lies within the half-width of the stretch, or may: never fewer.
 *
 * @param cellsPerSide  Cells along the side of the world.
 * @returns             each once; undefined where part of the stretch lies too near a pole to be told.
 */
export function cellsNear(
  { line }: TerrainStretch,
  halfWidthM: number,
  cellsPerSide: number,
): Cell[] | undefined {
  const pieces = line.slice(1).flatMap((to, index) => shortPieces(line[index]!, to));
  const found = new Map<number, Cell>();
  for (const piece of pieces) {
    if (!(Math.abs(piece.middle.latDeg) <= NORTHMOST_DEG)) return undefined;
    for (const cell of cellsAbout(piece, halfWidthM, cellsPerSide)) {
      found.set(cell.row * cellsPerSide + cell.column, cell);
    }
  }
  return [...found.values()];
}

interface Piece {
  readonly middle: Position;
  /** From the middle to its end, m; its other end lies opposite. */
  readonly eastM: number;
  readonly northM: number;
}

function shortPieces(from: Position, to: Position): Piece[] {
  const places = [from, ...positionsBetween(from, to, LONGEST_PIECE_M), to];
  return places.slice(1).map((end, index) => {
    const start = places[index]!;
    const turnDeg = end.lonDeg - start.lonDeg - 360 * Math.round((end.lonDeg - start.lonDeg) / 360);
    const middle = { latDeg: (start.latDeg + end.latDeg) / 2, lonDeg: start.lonDeg + turnDeg / 2 };
    const metersPerDeg = RAD_PER_DEG * MEAN_EARTH_RADIUS_M;
    return {
      middle,
      eastM: (turnDeg / 2) * metersPerDeg * Math.cos(middle.latDeg * RAD_PER_DEG),
      northM: ((end.latDeg - start.latDeg) / 2) * metersPerDeg,
    };
  });
}

function* cellsAbout(piece: Piece, halfWidthM: number, cellsPerSide: number): Generator<Cell> {
  const { middle } = piece;
  const wideM = halfWidthM * PLANE_MARGIN;
  const boxM = wideM + Math.hypot(piece.eastM, piece.northM);
  const reachDeg = boxM / (RAD_PER_DEG * MEAN_EARTH_RADIUS_M);
  const rowOf = (latDeg: number) => Math.floor(cellsPerSide * worldYFromLatDeg(latDeg));
  const lastRow = Math.min(cellsPerSide - 1, rowOf(middle.latDeg - reachDeg) + 1);
  for (let row = Math.max(0, rowOf(middle.latDeg + reachDeg) - 1); row <= lastRow; row += 1) {
    const latDeg = latDegFromWorldY((row + 0.5) / cellsPerSide);
    const northM = (latDeg - middle.latDeg) * RAD_PER_DEG * MEAN_EARTH_RADIUS_M;
    const edgesDeg = [latDegFromWorldY(row / cellsPerSide), latDegFromWorldY((row + 1) / cellsPerSide)];
    // Of the edge nearer to the equator, where the cell is widest.
    const cellM = worldSideM(Math.min(...edgesDeg.map(Math.abs))) / cellsPerSide;
    const sideM = worldSideM((latDeg + middle.latDeg) / 2);
    const reachM = wideM + cellM * Math.SQRT1_2;
    const middleX = worldXFromLonDeg(middle.lonDeg);
    const columnsAway = (boxM + cellM) / sideM;
    const first = Math.floor(cellsPerSide * (middleX - columnsAway)) - 1;
    const last = Math.min(Math.floor(cellsPerSide * (middleX + columnsAway)) + 1, first + cellsPerSide - 1);
    for (let unwrapped = first; unwrapped <= last; unwrapped += 1) {
      const eastM = ((unwrapped + 0.5) / cellsPerSide - middleX) * sideM;
      if (awayFromM(piece, eastM, northM) > reachM) continue;
      yield { column: ((unwrapped % cellsPerSide) + cellsPerSide) % cellsPerSide, row };
    }
  }
}

/** Distance from the piece on the plane about its middle. */
function awayFromM(piece: Piece, eastM: number, northM: number): number {
  const halfM2 = piece.eastM * piece.eastM + piece.northM * piece.northM;
  const along = halfM2 === 0 ? 0 : (eastM * piece.eastM + northM * piece.northM) / halfM2;
  const kept = Math.max(-1, Math.min(1, along));
  return Math.hypot(eastM - kept * piece.eastM, northM - kept * piece.northM);
}
