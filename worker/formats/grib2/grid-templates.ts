/**
 * What is kept of section 3, one shape a grid definition template: enough to rebuild the grid, plain enough for JSON.
 *
 * Hours that are stored hold these; a member may be added when older ones read without it, never renamed.
 */

interface Size {
  readonly nx: number;
  readonly ny: number;
  /** Radius of the sphere, or semi-major axis, m. */
  readonly earthRadiusM: number;
}

/** A map drawn on a figure of the earth. */
interface Mapped extends Size {
  /** (semi-major - semi-minor axis) / semi-major axis; a sphere when absent. */
  readonly earthFlattening?: number;
  /** Signed steps, m: dy > 0 when row 1 lies north of row 0. */
  readonly dxM: number;
  readonly dyM: number;
}

/** The point of column 0 and row 0, the row's western end. */
interface FirstPoint {
  readonly firstLatDeg: number;
  readonly firstLonDeg: number;
}

/** u and v follow the grid's x and y. */
interface Winds {
  readonly windsAlongGrid: boolean;
}

export interface LatLonDefinition extends Size, FirstPoint {
  readonly template: 0;
  /** Signed steps of row and column, deg. */
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
}

/** First point and steps are in the rotated latitudes and longitudes. */
export interface RotatedDefinition extends Size, FirstPoint, Winds {
  readonly template: 1;
  readonly latStepDeg: number;
  readonly lonStepDeg: number;
  /** Where the rotated coordinates have their southern pole. */
  readonly southPoleLatDeg: number;
  readonly southPoleLonDeg: number;
}

export interface MercatorDefinition extends Mapped, FirstPoint {
  readonly template: 10;
  /** Where dx and dy are true. */
  readonly trueLatDeg: number;
}

export interface TransverseMercatorDefinition extends Mapped, Winds {
  readonly template: 12;
  readonly referenceLatDeg: number;
  readonly referenceLonDeg: number;
  /** Scale of the map at the reference point. */
  readonly scaleFactor: number;
  /** Column 0 and row 0, m east and north of the reference point, false easting and northing taken off. */
  readonly firstXM: number;
  readonly firstYM: number;
}

export interface PolarDefinition extends Mapped, FirstPoint, Winds {
  readonly template: 20;
  /** The pole that lies on the map. */
  readonly pole: 'north' | 'south';
  /** The meridian parallel to the y-axis, along which latitude grows with y. */
  readonly orientationLonDeg: number;
  readonly trueLatDeg: number;
}

export interface LambertDefinition extends Mapped, FirstPoint, Winds {
  readonly template: 30;
  readonly orientationLonDeg: number;
  readonly standardLat1Deg: number;
  readonly standardLat2Deg: number;
}

export interface GaussianDefinition extends Size {
  readonly template: 40;
  readonly firstLonDeg: number;
  readonly lonStepDeg: number;
  /** N: parallels between a pole and the equator. */
  readonly parallels: number;
  /** Row 0 among the 2 N parallels, 0 the northernmost, and from row to row: 1 southward, -1 northward. */
  readonly firstParallel: number;
  readonly parallelStep: 1 | -1;
}

export type Grib2GridDefinition =
  | LatLonDefinition
  | RotatedDefinition
  | MercatorDefinition
  | TransverseMercatorDefinition
  | PolarDefinition
  | LambertDefinition
  | GaussianDefinition;
