/** One decoded GRIB2 field: what the parts that use it see, free of packing and section numbers. */
import type { Grib2GridDefinition } from './grid-templates.ts';

export type { Grib2GridDefinition } from './grid-templates.ts';

/** WMO code table 4.2 triple. */
export interface Grib2Parameter {
  readonly discipline: number;
  readonly category: number;
  readonly number: number;
}

/** First fixed surface (code table 4.5) with its value in the table's unit (Pa for 100, m for 103 ...). */
/** Which member of an ensemble a field is of. */
export interface EnsembleMember {
  /** Code table 4.6: 0 and 1 unperturbed, 2 and 3 perturbed, 4 of several models. */
  readonly type: number;
  readonly number: number;
}

export interface Grib2Level {
  readonly type: number;
  /** NaN where the surface has no value (ground, cloud top ...). */
  readonly value: number;
}

/** Where the points lie. Row 0, column 0 is the first point in file order once scanning has been undone. */
export interface Grib2Grid {
  /** Grid definition template number: one of Grib2GridDefinition. */
  readonly template: number;
  readonly nx: number;
  readonly ny: number;
  /** Radius of the sphere, or semi-major axis, m. */
  readonly earthRadiusM: number;
  /** Latitude and longitude (deg, lon in [-180, 180)) of a fractional column i and row j. */
  readonly toLatLon: (i: number, j: number) => { latDeg: number; lonDeg: number };
  /**
   * Fractional column i and row j of a place. Values outside 0..nx-1 / 0..ny-1 mean outside the grid, and so do values that
   * are not finite; on a grid around the globe columns go on to nx, where column 0 is met again.
   */
  readonly toIndex: (latDeg: number, lonDeg: number) => { i: number; j: number };
  /** True when column nx-1 is followed by column 0 (a grid around the globe). */
  readonly wrapsEast: boolean;
  /** True when u and v follow the grid's x and y and must be turned to east and north. */
  readonly windsAlongGrid: boolean;
  /** Angle at a place to add when windsAlongGrid: u_e = u cos a + v sin a, v_n = -u sin a + v cos a. Radians. */
  readonly windAngleRad: (latDeg: number, lonDeg: number) => number;
  /** Plain description, equal for equal grids: may be stored and compared. */
  readonly key: string;
  /** Enough to rebuild the grid from JSON. */
  readonly definition: Grib2GridDefinition;
}

export interface Grib2Field {
  /** Count of fields before this one in the file. */
  readonly index: number;
  /** Offset of the message's first byte in the file. */
  readonly messageOffsetBytes: number;
  readonly centre: number;
  readonly parameter: Grib2Parameter;
  readonly level: Grib2Level;
  /** Second fixed surface when there is one (a layer), else undefined. */
  readonly secondLevel: Grib2Level | undefined;
  readonly referenceTimeMs: number;
  /** End of the forecast interval for statistically processed fields (template 4.8), else the instant. */
  readonly validTimeMs: number;
  /** Product definition template number: 0 instant, 8 statistical interval ... */
  readonly productTemplate: number;
  /** Of a single member of an ensemble; undefined for anything else. */
  readonly member: EnsembleMember | undefined;
  readonly generatingProcess: number;
  readonly grid: Grib2Grid;
  /** Data representation template number, code table 5.0. */
  readonly packing: number;
  /** Row-major [row][column] after scanning is undone (rows along j, columns along i, both ascending); NaN where missing. */
  readonly values: Float32Array;
  /** Index into `values` of the n-th value in file order; undefined when it is n itself. */
  readonly fileOrder: Uint32Array | undefined;
  readonly missingCount: number;
}

/** What is known of a field before its values are decoded. */
export type Grib2FieldHeader = Omit<Grib2Field, 'grid' | 'values' | 'fileOrder' | 'missingCount'> & {
  readonly gridTemplate: number;
};
