/**
 * Latitudes on an ellipsoid as the conformal projections need them. A sphere is an ellipsoid of eccentricity 0.
 *
 * @source   Snyder 1987, USGS Professional Paper 1395, eqs. 14-15, 15-9 and 7-9.
 * @checked  tests/published/lambert.test.ts, tests/published/grid-projections.test.ts
 */

/** Iterations of eq. 7-9; on the earth each gains more than two digits. */
const LATITUDE_ITERATIONS = 8;

/** @param flattening  (semi-major - semi-minor axis) / semi-major axis. */
export function eccentricityOf(flattening: number): number {
  return Math.sqrt(flattening * (2 - flattening));
}

/** m of eq. 14-15: radius of a parallel over the semi-major axis. */
export function parallelRadius(phi: number, e: number): number {
  return Math.cos(phi) / Math.sqrt(1 - (e * Math.sin(phi)) ** 2);
}

/** t of eq. 15-9: 0 at the north pole, 1 on the equator, without end towards the south pole. */
export function polarTangent(phi: number, e: number): number {
  const eSin = e * Math.sin(phi);
  return Math.tan(Math.PI / 4 - phi / 2) / ((1 - eSin) / (1 + eSin)) ** (e / 2);
}

/** The latitude, rad, of a t: eq. 7-9, which for a sphere is eq. 7-11 at once. */
export function latitudeOf(t: number, e: number): number {
  let phi = Math.PI / 2 - 2 * Math.atan(t);
  for (let round = 0; e > 0 && round < LATITUDE_ITERATIONS; round += 1) {
    const eSin = e * Math.sin(phi);
    phi = Math.PI / 2 - 2 * Math.atan(t * ((1 - eSin) / (1 + eSin)) ** (e / 2));
  }
  return phi;
}
