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
/** Of latitude, on the sphere. */
const M_PER_DEG = RAD_PER_DEG * MEAN_EARTH_RADIUS_M;
/** What the plane may shorten over 200 km up to the latitude below; the half-width grows by it, so that no cell is missed. */
const PLANE_MARGIN = 1.03;
/** Beyond it cells are not told, and the ground is unknown. */
const NORTHMOST_DEG = 75;

/**
 * Every cell that lies within the half-width of the stretch, or may: never fewer.
 *
 * @param cellsPerSide  Cells along the side of the world.
 * @returns             row * cellsPerSide + column of each, the column in [0, cellsPerSide) also across the antimeridian;
 *                      undefined where part of the stretch lies too near a pole to be told.
 */
export function cellsNear(
  { line }: TerrainStretch,
  halfWidthM: number,
  cellsPerSide: number,
): Set<number> | undefined {
  const pieces = line.slice(1).flatMap((to, index) => shortPieces(line[index]!, to));
  if (pieces.some(({ middle }) => !(Math.abs(middle.latDeg) <= NORTHMOST_DEG))) return undefined;
  const found = new Set<number>();
  for (const piece of pieces) addCellsAbout(found, piece, halfWidthM, cellsPerSide);
  return found;
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
    return {
      middle,
      eastM: (turnDeg / 2) * M_PER_DEG * Math.cos(middle.latDeg * RAD_PER_DEG),
      northM: ((end.latDeg - start.latDeg) / 2) * M_PER_DEG,
    };
  });
}

function addCellsAbout(found: Set<number>, piece: Piece, halfWidthM: number, cellsPerSide: number): void {
  const { middle } = piece;
  const wideM = halfWidthM * PLANE_MARGIN;
  const boxM = wideM + Math.hypot(piece.eastM, piece.northM);
  const boxDeg = boxM / M_PER_DEG;
  const rowOf = (latDeg: number) => Math.floor(cellsPerSide * worldYFromLatDeg(latDeg));
  const middleX = worldXFromLonDeg(middle.lonDeg);
  const lastRow = Math.min(cellsPerSide - 1, rowOf(middle.latDeg - boxDeg) + 1);
  for (let row = Math.max(0, rowOf(middle.latDeg + boxDeg) - 1); row <= lastRow; row += 1) {
    const latDeg = latDegFromWorldY((row + 0.5) / cellsPerSide);
    const northM = (latDeg - middle.latDeg) * M_PER_DEG;
    const cellM = widestM(row, cellsPerSide);
    const reachM2 = (wideM + cellM * Math.SQRT1_2) ** 2;
    const sideM = worldSideM((latDeg + middle.latDeg) / 2);
    const columnsAway = (boxM + cellM) / sideM;
    const first = Math.floor(cellsPerSide * (middleX - columnsAway));
    const last = Math.floor(cellsPerSide * (middleX + columnsAway));
    for (let unwrapped = first; unwrapped <= last; unwrapped += 1) {
      const eastM = ((unwrapped + 0.5) / cellsPerSide - middleX) * sideM;
      if (awayFromM2(piece, eastM, northM) > reachM2) continue;
      found.add(row * cellsPerSide + (((unwrapped % cellsPerSide) + cellsPerSide) % cellsPerSide));
    }
  }
}

/** Side of a cell at its edge nearer to the equator, m. */
function widestM(row: number, cellsPerSide: number): number {
  const northDeg = latDegFromWorldY(row / cellsPerSide);
  const southDeg = latDegFromWorldY((row + 1) / cellsPerSide);
  return worldSideM(Math.min(Math.abs(northDeg), Math.abs(southDeg))) / cellsPerSide;
}

/** Square of the distance from the piece on the plane about its middle. */
function awayFromM2(piece: Piece, eastM: number, northM: number): number {
  const halfM2 = piece.eastM * piece.eastM + piece.northM * piece.northM;
  const along = halfM2 === 0 ? 0 : (eastM * piece.eastM + northM * piece.northM) / halfM2;
  const kept = Math.max(-1, Math.min(1, along));
  return (eastM - kept * piece.eastM) ** 2 + (northM - kept * piece.northM) ** 2;
}
