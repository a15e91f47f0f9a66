/**
 * The plane of square map tiles (Web Mercator): the whole world is a square of side 1, x from 180 W eastward, y from its
 * northern edge at 85.05 N southward; at zoom z it is cut into 2^z by 2^z tiles.
 *
 * @source  EPSG method 1024 (Popular Visualisation Pseudo-Mercator): latitudes of the ellipsoid taken for those of a sphere.
 * @checked tests/published/web-mercator.test.ts
 */
import { DEG_PER_RAD, MEAN_EARTH_RADIUS_M, RAD_PER_DEG } from './great-circle.ts';

/** Pixels along the side of a tile. */
export const TILE_PIXELS = 256;

/** In [0, 1) for longitudes in [-180, 180). */
export function worldXFromLonDeg(lonDeg: number): number {
  return (lonDeg + 180) / 360;
}

/** Below 0 or above 1 beyond 85.05 degrees; infinite at the poles. */
export function worldYFromLatDeg(latDeg: number): number {
  const sinLat = Math.sin(latDeg * RAD_PER_DEG);
  return 0.5 - Math.atanh(sinLat) / (2 * Math.PI);
}

export function latDegFromWorldY(y: number): number {
  return Math.asin(Math.tanh((0.5 - y) * 2 * Math.PI)) * DEG_PER_RAD;
}

/** Length of the world's side on the ground along a parallel, m: a part of it is as long northward there. */
export function worldSideM(latDeg: number): number {
  return 2 * Math.PI * MEAN_EARTH_RADIUS_M * Math.cos(latDeg * RAD_PER_DEG);
}
