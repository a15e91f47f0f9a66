/** Wind, visibility, weather and sky: the part that observations, trends and forecasts have in common. */

/** Whether a figure is the value itself, or the value lies below or at and above it (P6SM, M1/4SM, 9999, 0000). */
export type Bound = 'exact' | 'below' | 'above';

export type SpeedUnit = 'KT' | 'MPS' | 'KMH';

export interface Wind {
  /** Degrees true as coded, 360 for north, 0 for calm alone; null when variable or not observed. */
  readonly directionDeg: number | null;
  readonly isVariable: boolean;
  /** Null when not observed. */
  readonly speedKt: number | null;
  readonly speedBound: Bound;
  /** Null when no gust is given. */
  readonly gustKt: number | null;
  readonly gustBound: Bound;
  /** The extreme directions, clockwise; null when not given. */
  readonly variableFromDeg: number | null;
  readonly variableToDeg: number | null;
  /** The unit of the report; speeds here are knots whatever it was. */
  readonly unit: SpeedUnit;
}

export type Compass = 'N' | 'NE' | 'E' | 'SE' | 'S' | 'SW' | 'W' | 'NW';

export interface DirectedVisibility {
  readonly visibilityM: number;
  readonly direction: Compass;
}

export interface Visibility {
  /** Prevailing, or where the code gives one value, that one; null when not observed or given by direction alone. */
  readonly visibilityM: number | null;
  readonly bound: Bound;
  /** A second value without a direction: the lowest. */
  readonly minimumM: number | null;
  readonly directions: readonly DirectedVisibility[];
  /** NDV: the sensors cannot tell directions. */
  readonly isWithoutDirections: boolean;
}

/** Code table 4678, qualifiers. */
export type Descriptor = 'MI' | 'BC' | 'PR' | 'DR' | 'BL' | 'SH' | 'TS' | 'FZ';

/** Code table 4678, weather phenomena; the older PE reads as PL. */
export type Phenomenon =
  | ('DZ' | 'RA' | 'SN' | 'SG' | 'IC' | 'PL' | 'GR' | 'GS' | 'UP')
  | ('BR' | 'FG' | 'FU' | 'VA' | 'DU' | 'SA' | 'HZ' | 'PY')
  | ('PO' | 'SQ' | 'FC' | 'SS' | 'DS');

export interface Weather {
  /** The group as it stands. */
  readonly text: string;
  /** By the sign alone; a group without a sign is moderate, or has no intensity. */
  readonly intensity: 'light' | 'moderate' | 'heavy';
  readonly isInVicinity: boolean;
  /** In the order of the group; FZ speaks of the drops and fog of its group, never of its snow or ice. */
  readonly descriptors: readonly Descriptor[];
  readonly phenomena: readonly Phenomenon[];
}

export interface CloudLayer {
  /** Null when not observed. */
  readonly amount: 'FEW' | 'SCT' | 'BKN' | 'OVC' | null;
  /** Feet above the aerodrome, steps of 100 ft; null when not observed (or below the station). */
  readonly baseAglFt: number | null;
  readonly type: 'CB' | 'TCU' | 'not-observed' | null;
}

/**
 * SKC no cloud; CLR none below 12 000 ft seen by a machine; NSC none of operational significance; NCD none detected by a
 * machine; CAVOK none below 5000 ft (or the highest minimum sector altitude), no CB and no TCU.
 */
export type ClearSky = 'SKC' | 'CLR' | 'NSC' | 'NCD' | 'CAVOK';

export interface Sky {
  readonly layers: readonly CloudLayer[];
  /** VV: the sky cannot be seen. */
  readonly isObscured: boolean;
  /** Null when the sky can be seen, and when the vertical visibility was not observed (VV///). */
  readonly verticalVisibilityFt: number | null;
  readonly clear: ClearSky | null;
}

/** A null element was not given: unknown in a report, unchanged in a trend or change group. */
export interface Conditions {
  readonly wind: Wind | null;
  readonly visibility: Visibility | null;
  readonly weather: readonly Weather[];
  /** A group that may be precipitation could not be read: more may fall than `weather` tells. */
  readonly hasUnreadWeather: boolean;
  /** NSW: the weather told before ends. */
  readonly isWeatherEnding: boolean;
  readonly sky: Sky | null;
}

/** True for rain, drizzle, fog or precipitation of an unknown kind that freezes where it falls. */
export function isFreezing(weather: Weather): boolean {
  return weather.descriptors.includes('FZ') && weather.phenomena.some((each) => FREEZABLE.has(each));
}

const FREEZABLE: ReadonlySet<Phenomenon> = new Set(['RA', 'DZ', 'UP', 'FG', 'BR']);
