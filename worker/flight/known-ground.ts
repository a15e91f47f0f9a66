/** What all sources together know of the ground at a route point, and the minimum altitude that stands on it. */
import { distanceToStretchM } from '../science/great-circle.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import { type StretchGround, terrainStretch } from './terrain-stretch.ts';
import type { MinimumSource, RoutePoints } from './types.ts';

export interface SpotHeightPlace {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** True height of the ground or obstacle, m. */
  readonly heightM: number;
}

export interface GroundSources {
  readonly route: RoutePoints;
  readonly corridorHalfWidthM: number;
  readonly spotHeights: readonly SpotHeightPlace[];
  /** Of elevation tiles, one a route point. */
  readonly tileGround?: readonly StretchGround[] | undefined;
  /** Of a forecast model's own ground, one a route point, m; NaN where none. */
  readonly orographyM?: Float64Array | undefined;
}

export interface GroundHere {
  /** unknown, or the source that the minimum stands on. */
  readonly source: Exclude<MinimumSource, 'entered'>;
  /** Highest ground without any allowance, m; NaN where the source is unknown. */
  readonly heightM: number;
  /** Ground that is known to be there, perhaps of a part of the stretch alone, m; NaN where none is. */
  readonly atLeastM: number;
  /** Part of the minimum that stands for smoothed ground, m. */
  readonly allowanceM: number;
  /** Indicated, m; NaN where the source is unknown. */
  readonly minimumM: number;
}

/** Above the highest ground, with obstacles, by 14 CFR 91.177(a): in mountainous areas, and elsewhere. */
const IN_MOUNTAINS_M = mFromFt(2000);
const ELSEWHERE_M = mFromFt(1000);
/**
 * What a model's ground is raised by. Models hold the mean of some kilometers; 3,000 ft is judgement: it covers hills, and not
 * every summit of high mountains, so such a minimum is never enough alone.
 */
export const OROGRAPHY_ALLOWANCE_M = mFromFt(3000);
/** For a quick look only: a degree of latitude on the sphere is 111.19 km. */
const LEAST_M_PER_DEG_LAT = 111_000;

/**
 * Tiles that know the whole stretch speak first, and tell mountains from other ground; then spot heights, then a model's
 * ground, both always as in mountains, since neither says what lies between. Of what is known the highest counts.
 */
export function groundHere(sources: GroundSources, point: number): GroundHere {
  const spotM = highestSpotM(sources, point);
  const tiles = sources.tileGround?.[point];
  const orographyM = sources.orographyM?.[point] ?? Number.NaN;
  if (tiles !== undefined && !Number.isNaN(tiles.highestM)) return groundOfTiles(tiles, spotM);
  const partM = tiles?.atLeastM ?? Number.NaN;
  const atLeastM = highest(spotM, orographyM, partM);
  const raisedPartM = partM + (tiles?.allowanceM ?? Number.NaN);
  if (!Number.isNaN(spotM)) {
    // A spot beside a model's ground never lowers what that alone would ask for.
    const standM = highest(atLeastM, raisedPartM, orographyM + OROGRAPHY_ALLOWANCE_M);
    return groundFrom('spot-heights', { heightM: atLeastM, standM, clearanceM: IN_MOUNTAINS_M });
  }
  if (!Number.isNaN(orographyM)) {
    const standM = highest(orographyM + OROGRAPHY_ALLOWANCE_M, raisedPartM);
    const found = { heightM: atLeastM, standM, clearanceM: IN_MOUNTAINS_M };
    return roundedUp(groundFrom('model-orography', found));
  }
  return { source: 'unknown', heightM: Number.NaN, atLeastM, allowanceM: 0, minimumM: Number.NaN };
}

/** Mountains that cannot be ruled out count. */
function groundOfTiles(tiles: StretchGround, spotM: number): GroundHere {
  const heightM = highest(tiles.highestM, spotM);
  const standM = highest(tiles.highestM + tiles.allowanceM, spotM);
  const clearanceM = tiles.isMountainous === false ? ELSEWHERE_M : IN_MOUNTAINS_M;
  return roundedUp(groundFrom('terrain-tiles', { heightM, standM, clearanceM }));
}

function groundFrom(
  source: GroundHere['source'],
  at: { readonly heightM: number; readonly standM: number; readonly clearanceM: number },
): GroundHere {
  const { heightM, standM, clearanceM } = at;
  return {
    source,
    heightM,
    atLeastM: heightM,
    allowanceM: standM - heightM,
    minimumM: standM + clearanceM,
  };
}

/** Nothing is known of such ground to the foot: its minima are round, as charts have them. */
const ROUND_FT = 100;
/** Feet turned into meters and back leave this much dust, ft. */
const DUST_FT = 1e-6;

function roundedUp(ground: GroundHere): GroundHere {
  const roundFt = ROUND_FT * Math.ceil(ftFromM(ground.minimumM) / ROUND_FT - DUST_FT);
  return { ...ground, minimumM: mFromFt(roundFt) };
}

/** Of the numbers among them; NaN where none is one. */
function highest(...heightsM: readonly number[]): number {
  const known = heightsM.filter((heightM) => !Number.isNaN(heightM));
  return known.length === 0 ? Number.NaN : Math.max(...known);
}

/** Highest spot within the half-width of a point's stretch, m; NaN when there is none. */
function highestSpotM({ route, corridorHalfWidthM, spotHeights }: GroundSources, point: number): number {
  const [before, here, after] = terrainStretch(route, point).line;
  const reachM = corridorHalfWidthM + stretchLengthM(route, point);
  let highestM = Number.NaN;
  for (const spot of spotHeights) {
    if (!Number.isFinite(spot.heightM) || spot.heightM <= highestM) continue;
    if (Math.abs(spot.latDeg - route.latDeg[point]!) * LEAST_M_PER_DEG_LAT > reachM) continue;
    const awayM = Math.min(distanceToStretchM(spot, before!, here!), distanceToStretchM(spot, here!, after!));
    if (awayM <= corridorHalfWidthM) highestM = spot.heightM;
  }
  return highestM;
}

function stretchLengthM(route: RoutePoints, point: number): number {
  const last = route.pointCount - 1;
  return route.distanceM[Math.min(last, point + 1)]! - route.distanceM[Math.max(0, point - 1)]!;
}
