/**
 * The shapes every stage shares: columns of air, and what icing they hold, on one axis of altitude cells.
 *
 * All arrays are flat, `[column][cell]`, cell 0 lowest, index = column * cellCount + cell. SI units throughout.
 * Whether a cell is known is a state beside its values. A cell whose state is not KNOWN has meaningless values
 * (NaN by convention); no code may compare them, and no stage may turn such a cell into a known one.
 */

import type { IcingCalibration } from './calibration.ts';
import type { CloudSaturation } from './humidity-basis.ts';

/** Why a cell is known or not. KNOWN must stay 0 so that a fresh array must be filled on purpose with UNKNOWN_NO_DATA. */
export const CELL_STATE = {
  known: 0,
  /** No source reaches this place and time. */
  noData: 1,
  /** Sources exist, but all are further in time than may be used. */
  tooOld: 2,
  /** The place is outside the area of the grid. */
  outsideCoverage: 3,
  /** The altitude is above or below the levels the source has. */
  outsideProfile: 4,
  /** A level is there but a needed quantity on it is missing (temperature, humidity). */
  quantityMissing: 5,
  /** The source's bytes could not be decoded. */
  decodeFailed: 6,
  /** The cell is below the ground: not flown, never counted. */
  belowGround: 7,
} as const;
export type CellState = (typeof CELL_STATE)[keyof typeof CELL_STATE];

/** Words for the states, in code order, as they stand in answers. */
export const CELL_STATE_WORDS = [
  'known',
  'no-data',
  'too-old',
  'outside-coverage',
  'outside-profile',
  'quantity-missing',
  'decode-failed',
  'below-ground',
] as const;

/** The common vertical axis: cells of equal pressure-altitude depth (ICAO standard atmosphere, geopotential m). */
export interface AltitudeAxis {
  readonly cellCount: number;
  /** Lower edge of cell 0, pressure altitude, m. */
  readonly lowestM: number;
  /** Depth of each cell, m. */
  readonly cellDepthM: number;
  /** Pressure at the middle of each cell, Pa, strictly decreasing, length cellCount. */
  readonly middlePressurePa: Float64Array;
  /** Pressure at the cell edges, Pa, strictly decreasing, length cellCount + 1. */
  readonly edgePressurePa: Float64Array;
}

/** What a source's condensate number means. */
export type CondensateBasis = 'none' | 'liquid' | 'total';

/** Native levels of one ascent or one grid column, pressure strictly decreasing; NaN where a quantity is missing. */
export interface Profile {
  readonly levelCount: number;
  readonly pressurePa: Float64Array;
  readonly geopotentialHeightM: Float64Array;
  readonly temperatureK: Float64Array;
  /** Relative humidity over liquid water at all temperatures, ratio 0-1 (may exceed 1). */
  readonly relativeHumidityRatio: Float64Array;
  readonly windEastMps: Float64Array;
  readonly windNorthMps: Float64Array;
  /** Pa/s, negative upward; NaN where the source has none (an ascent never has). */
  readonly verticalVelocityPaPerS: Float64Array;
  /** Condensate mixing ratio, kg/kg, grid-box mean; NaN where the source has none. Meaning: see condensateBasis. */
  readonly condensateKgPerKg: Float64Array;
  readonly condensateBasis: CondensateBasis;
  /** Rain, kg/kg, grid-box mean, no part of the condensate; absent for a source that gives none, NaN where it lost its value. */
  readonly rainKgPerKg?: Float64Array;
  /** Share of the place where freezing rain reaches the ground, 0-1; absent or NaN where the source does not say. */
  readonly freezingRainRatio?: number;
  /** Cloud fraction of the grid box, 0-1; absent for a source that gives none, NaN where it lost its value. */
  readonly cloudFractionRatio?: Float64Array;
  /** What the source reads in saturated cloud; absent for an aircraft's own sensor. */
  readonly cloudSaturation?: CloudSaturation;
  /** Height of the ground above mean sea level, m; NaN when the source does not say. */
  readonly surfaceHeightM: number;
  /**
   * True when the levels are standard ones alone, chosen whatever the air does between them: then nothing is known between
   * them. An ascent with significant levels, or a model's column, may be read as straight lines.
   */
  readonly isStandardLevelsOnly?: boolean;
  /**
   * True for an ascent: a level with wind alone may be one on which no temperature was ever meant to stand. Of any other source
   * such a level has lost its air.
   */
  readonly mayHaveWindLevels?: boolean;
}

/** Columns of air on the common axis. Quantities without a value in a known cell (wind, condensate) are NaN. */
export interface WeatherColumns {
  readonly columnCount: number;
  readonly axis: AltitudeAxis;
  /** At the cell's middle, K. */
  readonly temperatureK: Float32Array;
  /** Greatest relative humidity over water met inside the cell, ratio: a thin moist layer is never averaged away. */
  readonly relativeHumidityRatio: Float32Array;
  /** At the cell's middle, gpm. */
  readonly geopotentialHeightM: Float32Array;
  readonly windEastMps: Float32Array;
  readonly windNorthMps: Float32Array;
  readonly verticalVelocityPaPerS: Float32Array;
  readonly condensateKgPerKg: Float32Array;
  /** One entry a column. */
  readonly condensateBasis: readonly CondensateBasis[];
  readonly cloudFractionRatio: Float32Array;
  /** Greatest inside the cell. */
  readonly rainKgPerKg: Float32Array;
  /** One entry a column: 1 for a source that gives rain, so that a cell without has lost it. */
  readonly givesRain: Uint8Array;
  /** One entry a column: share with freezing rain at the ground, 0-1; NaN where the source does not say. */
  readonly freezingRainRatio: Float32Array;
  /** One entry a column. */
  readonly cloudSaturation: readonly CloudSaturation[];
  readonly state: Uint8Array;
}

/** Icing intensity by growth on the unprotected outer wing; codes are ordered. */
export const INTENSITY = {
  none: 0,
  trace: 1,
  light: 2,
  moderate: 3,
  severe: 4,
} as const;
export const INTENSITY_WORDS = ['none', 'trace', 'light', 'moderate', 'severe'] as const;
export type IntensityWord = (typeof INTENSITY_WORDS)[number];

/** Kind of ice by freezing fraction. */
export const ICE_KIND = { none: 0, rime: 1, mixed: 2, clear: 3 } as const;
export const ICE_KIND_WORDS = ['none', 'rime', 'mixed', 'clear'] as const;
export type IceKindWord = (typeof ICE_KIND_WORDS)[number];

/** Stands in every code array of a cell that is not known: no code, so that forgetting the state cannot read as none. */
export const UNKNOWN_CODE = 255;

/** Large supercooled drops. */
export const LARGE_DROPS = {
  none: 0,
  freezingDrizzle: 1,
  freezingRain: 2,
  icePellets: 3,
} as const;
export type LargeDrops = (typeof LARGE_DROPS)[keyof typeof LARGE_DROPS];
export const LARGE_DROPS_WORDS = ['none', 'freezing-drizzle', 'freezing-rain', 'ice-pellets'] as const;
export type LargeDropsWord = (typeof LARGE_DROPS_WORDS)[number];

/**
 * Icing on the same axis. Probability and the amounts GIVEN liquid are carried apart, never as their product.
 * Conditional amounts are those of the cell if it does hold supercooled liquid; 0 where it cannot.
 */
export interface IcingColumns {
  readonly columnCount: number;
  readonly axis: AltitudeAxis;
  /** Probability that the cell is in cloud, 0-1. */
  readonly cloudProbability: Float32Array;
  /** Probability that the cell holds supercooled liquid, 0-1; at and above 0 degC only as far as temperature is uncertain. */
  readonly icingProbability: Float32Array;
  /** Liquid water given liquid, kg/m3. */
  readonly liquidWaterKgPerM3: Float32Array;
  /** Median volume diameter given liquid, m. */
  readonly medianVolumeDiameterM: Float32Array;
  /** Local collection efficiency at the wing's stagnation line, 0-1. */
  readonly collectionEfficiency: Float32Array;
  /** Fraction of the caught water that freezes at the stagnation line, 0-1. */
  readonly freezingFraction: Float32Array;
  /** Thickness growth given liquid on the unprotected outer wing's leading edge, m/s. */
  readonly wingGrowthMps: Float32Array;
  /** The same on the reference rod, m/s. */
  readonly rodGrowthMps: Float32Array;
  /** Water caught per area at the wing's stagnation line given liquid, kg/m2/s: what the fluid must cope with. */
  readonly wingCatchKgPerM2S: Float32Array;
  /** INTENSITY code given liquid. */
  readonly intensity: Uint8Array;
  /** ICE_KIND code given liquid. */
  readonly iceKind: Uint8Array;
  /** LARGE_DROPS code: the worst kind that is probable enough to be named. */
  readonly largeDrops: Uint8Array;
  /** Probability of supercooled large drops (freezing rain or drizzle), 0-1; may be above 0 where none is named. */
  readonly largeDropProbability: Float32Array;
  /** Liquid water over the continuous-maximum limit of 14 CFR 25 Appendix C for this cell, ratio. */
  readonly envelopeRatio: Float32Array;
  readonly state: Uint8Array;
}

/** What the diagnosis needs to know of the aeroplane and the air mass. */
export interface DiagnosisSettings {
  /** True airspeed at each cell, m/s, length cellCount. */
  readonly trueAirspeedMps: Float64Array;
  /** Nose radius of the outer wing's leading edge, m. */
  readonly wingNoseRadiusM: number;
  /** Radius of the unprotected reference rod, m. */
  readonly rodRadiusM: number;
  /** Droplet number concentration, 1/m3. */
  readonly dropletNumberPerM3: number;
  /** Other numbers than CALIBRATION's, for trials. */
  readonly calibration?: Partial<IcingCalibration>;
}
