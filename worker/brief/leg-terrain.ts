/** The ground of a leg from every source there is, and the minimum altitudes that stand on it. */
import { minimumAltitudes } from '../flight/minimum-altitude.ts';
import { type StretchGround, terrainStretches } from '../flight/terrain-stretch.ts';
import type { MinimumAltitudes, RoutePoints } from '../flight/types.ts';
import { MINIMUM_SOURCES } from '../flight/types.ts';
import { mFromFt, mFromNm } from '../science/units.ts';
import type { BriefReads, SpotHeight } from '../sources/ports.ts';
import { boxAround, type LegData } from './leg-data.ts';
import type { SettledOptions } from './settings.ts';

/** What was read of the ground, beside the air. */
export interface LegTerrain {
  readonly spotHeights: readonly SpotHeight[];
  /** undefined where no elevation tiles are set. */
  readonly tiles: { readonly ground: readonly StretchGround[]; readonly attribution: string } | undefined;
}

interface Corridor {
  readonly route: RoutePoints;
  readonly corridorHalfWidthM: number;
}

/** Ground counts at least so far to either side, as 14 CFR 91.177(a)(2) has it, however narrow a corridor is asked for. */
const LEAST_GROUND_HALF_WIDTH_M = mFromNm(4);
const groundHalfWidthM = (corridorHalfWidthM: number): number =>
  Math.max(LEAST_GROUND_HALF_WIDTH_M, corridorHalfWidthM);

/** A box is laid around the route's points, the corridor around the lines between them: wide enough for those. */
const SPOTS_REACH = 1.5;

/** Waits for the stores, and for tiles that are not in store yet. */
export async function readLegTerrain(
  { places, terrain }: Pick<BriefReads, 'places' | 'terrain'>,
  { route, corridorHalfWidthM }: Corridor,
  operators: readonly string[],
): Promise<LegTerrain> {
  const halfWidthM = groundHalfWidthM(corridorHalfWidthM);
  const [spotHeights, ground] = await Promise.all([
    places.spotHeights(operators, boxAround(route, SPOTS_REACH * halfWidthM)),
    terrain?.highestGround(terrainStretches(route), halfWidthM),
  ]);
  if (terrain === undefined || ground === undefined) return { spotHeights, tiles: undefined };
  return { spotHeights, tiles: { ground, attribution: terrain.attribution } };
}

export function minimumOfLeg(
  { route, corridorHalfWidthM, options }: Corridor & { readonly options: SettledOptions },
  { spotHeights, tiles }: LegTerrain,
  data: Pick<LegData, 'runs'>,
): MinimumAltitudes {
  return minimumAltitudes({
    route,
    corridorHalfWidthM: groundHalfWidthM(corridorHalfWidthM),
    entered: options.minimumAltitudes.map((each) => ({
      fromM: mFromNm(each.fromNm),
      toM: mFromNm(each.toNm),
      altitudeM: mFromFt(each.altitudeFt),
    })),
    spotHeights,
    tileGround: tiles?.ground,
    orographyM: orographyM(data, route.pointCount),
  });
}

/** Of the tiles, where a point's ground is theirs; null where none is. */
export function terrainAttribution(
  { terrainSource }: Pick<MinimumAltitudes, 'terrainSource'>,
  { tiles }: LegTerrain,
): string | null {
  const isUsed = terrainSource.includes(MINIMUM_SOURCES.indexOf('terrain-tiles'));
  return isUsed && tiles !== undefined ? tiles.attribution : null;
}

/** Coarser models say nothing of the ground at a place: their points stand for more than the corridor is wide, m. */
const COARSEST_SPACING_M = 30_000;

/**
 * The models' own ground at each point, m: the highest that any hour has there or at a neighboring point, since a point
 * speaks half way to its neighbors. NaN where no model has any.
 */
export function orographyM({ runs }: Pick<LegData, 'runs'>, pointCount: number): Float64Array {
  const own = new Float64Array(pointCount).fill(Number.NaN);
  for (const { hours, columns } of runs) {
    hours.forEach(({ spacingM }, hour) => {
      if (spacingM > COARSEST_SPACING_M) return;
      columns[hour]!.forEach((column, point) => {
        if (column?.kind !== 'profile') return;
        const heightM = column.profile.surfaceHeightM;
        if (Number.isFinite(heightM) && !(own[point]! >= heightM)) own[point] = heightM;
      });
    });
  }
  return own.map((heightM, point) => {
    const around = [own[point - 1], own[point + 1]].filter((each) => each !== undefined && each > heightM);
    return Math.max(heightM, ...(around as number[]));
  });
}
