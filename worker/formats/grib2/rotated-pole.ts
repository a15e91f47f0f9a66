/**
 * Latitudes and longitudes of a sphere that is turned so that its southern pole lies somewhere else.
 *
 * A southern pole at 90 S 0 E turns nothing; the geographic poles always lie on the turned meridians of 0 and 180 degrees.
 *
 * @source   WMO-No. 306, Volume I.2, grid definition template 3.1, notes on the rotation: first by the pole's longitude about the
 *           earth's axis, then by 90 degrees plus its latitude along the turned Greenwich meridian.
 * @checked  tests/formats/grib2/grid-places.test.ts (places by ecCodes), tests/published/grid-projections.test.ts
 */

export interface RotatedSphere {
  readonly toRotated: (latDeg: number, lonDeg: number) => SpherePoint;
  readonly toGeographic: (latDeg: number, lonDeg: number) => SpherePoint;
  /** Angle at a geographic place from turned north to true north, counter-clockwise, rad. */
  readonly angleRad: (latDeg: number, lonDeg: number) => number;
}

export interface SpherePoint {
  readonly latDeg: number;
  readonly lonDeg: number;
}

const RAD_PER_DEG = Math.PI / 180;

export function rotatedSphere(southPoleLatDeg: number, southPoleLonDeg: number): RotatedSphere {
  const sinPole = Math.sin(southPoleLatDeg * RAD_PER_DEG);
  const cosPole = Math.cos(southPoleLatDeg * RAD_PER_DEG);
  const toRotated = (latDeg: number, lonDeg: number) => {
    const [x, y, z] = unitVector(latDeg, lonDeg - southPoleLonDeg);
    return pointOf(-sinPole * x + cosPole * z, y, -cosPole * x - sinPole * z);
  };
  return {
    toRotated,
    toGeographic(latDeg, lonDeg) {
      const [x, y, z] = unitVector(latDeg, lonDeg);
      const place = pointOf(-sinPole * x - cosPole * z, y, cosPole * x - sinPole * z);
      return { latDeg: place.latDeg, lonDeg: place.lonDeg + southPoleLonDeg };
    },
    angleRad(latDeg, lonDeg) {
      const rotated = toRotated(latDeg, lonDeg);
      const phi = rotated.latDeg * RAD_PER_DEG;
      const lambda = rotated.lonDeg * RAD_PER_DEG;
      // The geographic north pole seen from the place: how far to the turned east, how far to the turned north.
      const east = -cosPole * Math.sin(lambda);
      const north = -cosPole * Math.sin(phi) * Math.cos(lambda) - sinPole * Math.cos(phi);
      return Math.atan2(-east, north);
    },
  };
}

function unitVector(latDeg: number, lonDeg: number): readonly [number, number, number] {
  const phi = latDeg * RAD_PER_DEG;
  const lambda = lonDeg * RAD_PER_DEG;
  return [Math.cos(phi) * Math.cos(lambda), Math.cos(phi) * Math.sin(lambda), Math.sin(phi)];
}

function pointOf(x: number, y: number, z: number): SpherePoint {
  return {
    latDeg: Math.atan2(z, Math.hypot(x, y)) / RAD_PER_DEG,
    lonDeg: Math.atan2(y, x) / RAD_PER_DEG,
  };
}
