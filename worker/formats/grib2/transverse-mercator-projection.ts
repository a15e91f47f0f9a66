/**
 * Transverse Mercator projection of a sphere or an ellipsoid (Gauss-Kruger), by series in the third flattening n.
 *
 * @source   Kruger 1912 as given by Karney 2011, J. Geodesy 85, eqs. 7-9 (tangents), 10 (sphere), 11 and 15 (sums), 23-25 (turn),
 *           35 and 36 (coefficients); written from memory, so the numbers of equations too. Cut after n^4: a term more is 1e-7 m on the
 *           earth. The meridian distance of the reference point is the same sum at the central meridian.
 * @checked  tests/published/grid-projections.test.ts
 */
import { eccentricityOf } from './conformal-latitude.ts';
import type { EarthShape } from './earth-shape.ts';
import { aboutMeridian, type MapPoint, type MapProjection } from './grid-plane.ts';

export interface TransverseMercatorMap {
  /** Scale of the map along the central meridian. */
  readonly scaleFactor: number;
  readonly referenceLatDeg: number;
  readonly referenceLonDeg: number;
}

const RAD_PER_DEG = Math.PI / 180;
/** Of the search for the latitude of a conformal latitude; each step squares the error. */
const NEWTON_STEPS = 5;
/** How far east or west the series is right to 0.1 m, in radii of the earth (9 500 km); a sphere has no such end. */
const MOST_ETA = 1.5;

/**
 * Meters count from the reference point. The half of the earth beyond 90 degrees from the central meridian is not on the map,
 * nor is what lies beyond the reach of the series.
 */
export function transverseMercatorMap(
  { semiMajorAxisM, flattening }: EarthShape,
  { scaleFactor, referenceLatDeg, referenceLonDeg }: TransverseMercatorMap,
): MapProjection {
  const e = eccentricityOf(flattening);
  const n = flattening / (2 - flattening);
  const scaleM = scaleFactor * ((semiMajorAxisM / (1 + n)) * (1 + n ** 2 / 4 + n ** 4 / 64));
  const ahead = forwardCoefficients(n);
  const back = inverseCoefficients(n);
  const mostEta = flattening === 0 ? Number.POSITIVE_INFINITY : MOST_ETA;
  const project = (latDeg: number, fromCentralDeg: number): MapPoint => {
    const tau = conformalTangent(Math.tan(latDeg * RAD_PER_DEG), e);
    const onSphere = sphericalMap(tau, fromCentralDeg * RAD_PER_DEG);
    const isOnMap = Math.abs(fromCentralDeg) < 90 && Math.abs(onSphere.eta) <= mostEta;
    if (!isOnMap) return { xM: Number.NaN, yM: Number.NaN };
    const { xi, eta } = bent(onSphere, ahead);
    return { xM: scaleM * eta, yM: scaleM * xi };
  };
  const referenceM = project(referenceLatDeg, 0).yM;
  return aboutMeridian(referenceLonDeg, {
    project(latDeg, fromCentralDeg) {
      const { xM, yM } = project(latDeg, fromCentralDeg);
      return { xM, yM: yM - referenceM };
    },
    unproject(xM, yM) {
      const { xi, eta } = bent({ xi: (yM + referenceM) / scaleM, eta: xM / scaleM }, back);
      const tau = Math.sin(xi) / Math.hypot(Math.sinh(eta), Math.cos(xi));
      return {
        latDeg: Math.atan(geographicTangent(tau, e)) / RAD_PER_DEG,
        fromCentralDeg: Math.atan2(Math.sinh(eta), Math.cos(xi)) / RAD_PER_DEG,
      };
    },
    angleRad(phi, lambda) {
      const tau = conformalTangent(Math.tan(phi), e);
      const { xi, eta } = sphericalMap(tau, lambda);
      const onSphere = Math.atan2(tau * Math.sin(lambda), Math.cos(lambda) * Math.hypot(1, tau));
      return onSphere + bendRad(xi, eta, ahead);
    },
  });
}

/** tau' of Karney's eqs. 7-9: tangent of the conformal latitude. */
function conformalTangent(tau: number, e: number): number {
  const root = Math.hypot(1, tau);
  const sigma = Math.sinh(e * Math.atanh((e * tau) / root));
  return tau * Math.hypot(1, sigma) - sigma * root;
}

/** The inverse, by Newton's method. */
function geographicTangent(conformal: number, e: number): number {
  let tau = conformal / (1 - e ** 2);
  for (let step = 0; e > 0 && step < NEWTON_STEPS; step += 1) {
    const here = conformalTangent(tau, e);
    const slope = ((1 - e ** 2) * Math.hypot(1, here) * Math.hypot(1, tau)) / (1 + (1 - e ** 2) * tau ** 2);
    tau += (conformal - here) / slope;
  }
  return tau;
}

/** North and east on the map over its scale. */
interface Scaled {
  readonly xi: number;
  readonly eta: number;
}

/** The projection of the sphere of conformal latitudes: eq. 10. */
function sphericalMap(tau: number, lambda: number): Scaled {
  return {
    xi: Math.atan2(tau, Math.cos(lambda)),
    eta: Math.asinh(Math.sin(lambda) / Math.hypot(tau, Math.cos(lambda))),
  };
}

/** The turn that the bending adds to the convergence of the sphere, rad: the argument of the derivative of `bent`. */
function bendRad(xi: number, eta: number, coefficients: readonly number[]): number {
  let real = 1;
  let imaginary = 0;
  for (const [index, coefficient] of coefficients.entries()) {
    const twice = 2 * (index + 1);
    real += twice * coefficient * Math.cos(twice * xi) * Math.cosh(twice * eta);
    imaginary += twice * coefficient * Math.sin(twice * xi) * Math.sinh(twice * eta);
  }
  return Math.atan2(imaginary, real);
}

/** xi + sum c_j sin 2j xi cosh 2j eta, eta + sum c_j cos 2j xi sinh 2j eta. */
function bent({ xi, eta }: Scaled, coefficients: readonly number[]): Scaled {
  let xiSum = xi;
  let etaSum = eta;
  for (const [index, coefficient] of coefficients.entries()) {
    const twice = 2 * (index + 1);
    xiSum += coefficient * Math.sin(twice * xi) * Math.cosh(twice * eta);
    etaSum += coefficient * Math.cos(twice * xi) * Math.sinh(twice * eta);
  }
  return { xi: xiSum, eta: etaSum };
}

/** alpha of eq. 35. */
function forwardCoefficients(n: number): readonly number[] {
  return [
    n / 2 - (2 / 3) * n ** 2 + (5 / 16) * n ** 3 + (41 / 180) * n ** 4,
    (13 / 48) * n ** 2 - (3 / 5) * n ** 3 + (557 / 1440) * n ** 4,
    (61 / 240) * n ** 3 - (103 / 140) * n ** 4,
    (49_561 / 161_280) * n ** 4,
  ];
}

/** -beta of eq. 36. */
function inverseCoefficients(n: number): readonly number[] {
  return [
    -(n / 2 - (2 / 3) * n ** 2 + (37 / 96) * n ** 3 - (1 / 360) * n ** 4),
    -((1 / 48) * n ** 2 + (1 / 15) * n ** 3 - (437 / 1440) * n ** 4),
    -((17 / 480) * n ** 3 - (37 / 840) * n ** 4),
    -((4397 / 161_280) * n ** 4),
  ];
}
