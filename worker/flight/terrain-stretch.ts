/** The stretches of a leg's corridor whose ground is asked for, and what a source answers of one. */
import type { Position } from '../science/great-circle.ts';
import type { RoutePoints } from './types.ts';

/** Everything within the half-width of a line: from half way to the point before, over the point, to half way to the next. */
export interface TerrainStretch {
  readonly line: readonly Position[];
}

/** What one source knows of the ground of a stretch. */
export interface StretchGround {
  /** Highest ground, m true; NaN unless every part of the stretch is known. */
  readonly highestM: number;
  /** Highest of the parts that are known, m true; NaN where none is. The same as highestM where all are. */
  readonly atLeastM: number;
  /** What summits may stand above such heights, since the source smooths them, m. */
  readonly allowanceM: number;
  /** By the definition of mountainous area; undefined where not all the ground for it is known. */
  readonly isMountainous: boolean | undefined;
}

/** One a route point. */
export function terrainStretches(route: RoutePoints): TerrainStretch[] {
  return Array.from({ length: route.pointCount }, (_, point) => terrainStretch(route, point));
}

export function terrainStretch(route: RoutePoints, point: number): TerrainStretch {
  const middle = (other: number) => ({
    latDeg: (route.latDeg[point]! + route.latDeg[other]!) / 2,
    lonDeg: middleLonDeg(route.lonDeg[point]!, route.lonDeg[other]!),
  });
  return {
    line: [
      middle(Math.max(0, point - 1)),
      { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! },
      middle(Math.min(route.pointCount - 1, point + 1)),
    ],
  };
}

/** Of two longitudes less than half the globe apart. */
function middleLonDeg(aDeg: number, bDeg: number): number {
  const differenceDeg = bDeg - aDeg - 360 * Math.round((bDeg - aDeg) / 360);
  return aDeg + differenceDeg / 2;
}
