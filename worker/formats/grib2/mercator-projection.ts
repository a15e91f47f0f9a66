/**
 * Northing of the Mercator projection of a sphere or an ellipsoid.
 *
 * @source   Snyder 1987, USGS Professional Paper 1395, eqs. 7-1 to 7-9; the scale of 7-8 at the parallel of true scale.
 * @checked  tests/published/grid-projections.test.ts
 */
import { eccentricityOf, latitudeOf, parallelRadius, polarTangent } from './conformal-latitude.ts';
import type { EarthShape } from './earth-shape.ts';

export interface MercatorMap {
  /** m on the map for each degree of longitude. */
  readonly metersPerLonDeg: number;
  /** m north of the equator; without end at the poles. */
  readonly northingM: (latDeg: number) => number;
  readonly latDeg: (northingM: number) => number;
}

const RAD_PER_DEG = Math.PI / 180;

/** @param trueLatDeg  Where lengths on the map are those of the earth; not a pole. */
export function mercatorMap({ semiMajorAxisM, flattening }: EarthShape, trueLatDeg: number): MercatorMap {
  const e = eccentricityOf(flattening);
  const radiusM = semiMajorAxisM * parallelRadius(trueLatDeg * RAD_PER_DEG, e);
  return {
    metersPerLonDeg: radiusM * RAD_PER_DEG,
    northingM: (latDeg) => -radiusM * Math.log(polarTangent(latDeg * RAD_PER_DEG, e)),
    latDeg: (northingM) => latitudeOf(Math.exp(-northingM / radiusM), e) / RAD_PER_DEG,
  };
}
