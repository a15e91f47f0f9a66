/**
 * Lambert conformal conic projection of a sphere or an ellipsoid, about one central meridian.
 *
 * @source   Snyder 1987, USGS Professional Paper 1395, eqs. 14-15, 15-1 to 15-11, 7-9 and 3-1. Differs from it in: the
 *           northing counts from the cone's apex, since only differences of coordinates are used.
 * @checked  tests/published/lambert.test.ts
 */
import { eccentricityOf, latitudeOf, parallelRadius, polarTangent } from './conformal-latitude.ts';

export interface ConeDefinition {
  /** Radius of the sphere, or semi-major axis, m. */
  readonly semiMajorAxisM: number;
  /** 0 for a sphere. */
  readonly flattening: number;
  readonly standardLat1Deg: number;
  readonly standardLat2Deg: number;
}

export interface Cone {
  /** n: convergence of the meridians, negative on a southern cone. */
  readonly coneConstant: number;
  /**
   * @param fromCentralDeg  Longitude less that of the central meridian, deg, in [-180, 180).
   * @returns               m east and north of the apex; not finite at the pole opposite to it.
   */
  readonly project: (latDeg: number, fromCentralDeg: number) => { xM: number; yM: number };
  readonly unproject: (xM: number, yM: number) => { latDeg: number; fromCentralDeg: number };
  /** Length on the map over length on the earth at a latitude; 1 at the standard parallels. */
  readonly scaleAt: (latDeg: number) => number;
}

const RAD_PER_DEG = Math.PI / 180;
/** Parallels nearer than this are one: the quotient of differences would be rounding. */
const SAME_PARALLEL_DEG = 1e-7;

export function lambertCone(definition: ConeDefinition): Cone {
  const { semiMajorAxisM, flattening } = definition;
  const e = eccentricityOf(flattening);
  const phi1 = definition.standardLat1Deg * RAD_PER_DEG;
  const phi2 = definition.standardLat2Deg * RAD_PER_DEG;
  const isTangent = Math.abs(definition.standardLat1Deg - definition.standardLat2Deg) < SAME_PARALLEL_DEG;
  const n = isTangent
    ? Math.sin(phi1)
    : Math.log(parallelRadius(phi1, e) / parallelRadius(phi2, e)) /
      Math.log(polarTangent(phi1, e) / polarTangent(phi2, e));
  const scale = (semiMajorAxisM * parallelRadius(phi1, e)) / (n * polarTangent(phi1, e) ** n);
  const rhoAt = (latDeg: number) => scale * polarTangent(latDeg * RAD_PER_DEG, e) ** n;
  return {
    coneConstant: n,
    project(latDeg, fromCentralDeg) {
      const rho = rhoAt(latDeg);
      const theta = n * fromCentralDeg * RAD_PER_DEG;
      return { xM: rho * Math.sin(theta), yM: -rho * Math.cos(theta) };
    },
    unproject(xM, yM) {
      const sign = Math.sign(n);
      const rho = sign * Math.hypot(xM, yM);
      const theta = Math.atan2(sign * xM, -sign * yM);
      const latDeg = latitudeOf((rho / scale) ** (1 / n), e) / RAD_PER_DEG;
      return { latDeg, fromCentralDeg: theta / n / RAD_PER_DEG };
    },
    scaleAt(latDeg) {
      const phi = latDeg * RAD_PER_DEG;
      return (n * rhoAt(latDeg)) / (semiMajorAxisM * parallelRadius(phi, e));
    },
  };
}
