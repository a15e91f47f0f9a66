/**
 * Polar stereographic projection of a sphere or an ellipsoid, from either pole.
 *
 * @source   Snyder 1987, USGS Professional Paper 1395, eqs. 21-30 to 21-39; both signs turned for the southern aspect.
 * @checked  tests/published/grid-projections.test.ts
 */
import { eccentricityOf, latitudeOf, parallelRadius, polarTangent } from './conformal-latitude.ts';
import type { EarthShape } from './earth-shape.ts';
import { aboutMeridian, type MapProjection } from './grid-plane.ts';

const RAD_PER_DEG = Math.PI / 180;

/**
 * @param pole               The one in the middle of the map, at x = y = 0.
 * @param orientationLonDeg  The meridian parallel to the y-axis, along which latitude grows with y.
 * @param trueLatDeg         Where lengths on the map are those of the earth; not the other pole.
 */
export function polarStereographicMap(
  { semiMajorAxisM, flattening }: EarthShape,
  {
    pole,
    orientationLonDeg,
    trueLatDeg,
  }: { pole: 'north' | 'south'; orientationLonDeg: number; trueLatDeg: number },
): MapProjection {
  const e = eccentricityOf(flattening);
  const sign = pole === 'north' ? 1 : -1;
  const scale = semiMajorAxisM * scaleAtPole(sign * trueLatDeg * RAD_PER_DEG, e);
  return aboutMeridian(orientationLonDeg, {
    project(latDeg, fromCentralDeg) {
      const rhoM = scale * polarTangent(sign * latDeg * RAD_PER_DEG, e);
      const theta = fromCentralDeg * RAD_PER_DEG;
      return { xM: rhoM * Math.sin(theta), yM: -sign * rhoM * Math.cos(theta) };
    },
    unproject(xM, yM) {
      const phi = sign * latitudeOf(Math.hypot(xM, yM) / scale, e);
      return { latDeg: phi / RAD_PER_DEG, fromCentralDeg: Math.atan2(xM, -sign * yM) / RAD_PER_DEG };
    },
    angleRad: (_, lambda) => sign * lambda,
  });
}

/** m / t at the parallel of true scale, and the limit of that at the pole itself. */
function scaleAtPole(phi: number, e: number): number {
  const isPole = Math.abs(phi - Math.PI / 2) < 1e-9;
  if (!isPole) return parallelRadius(phi, e) / polarTangent(phi, e);
  return 2 / Math.sqrt((1 + e) ** (1 + e) * (1 - e) ** (1 - e));
}
