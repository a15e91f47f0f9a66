/**
 * One warning as typed values: a SIGMET or AIRMET of the ICAO form, or one area of the bulletins of the United States.
 * What the text does not give is undefined, or says so in its `kind`.
 */
import type { Position } from '../../science/great-circle.ts';
import type { LocatedPoint, UnreadText } from '../pilot-reports/report.ts';

/** Rain or drizzle that freezes where it falls, or supercooled large drops by that name. */
export type FreezingPrecipitation = 'freezing-rain' | 'freezing-drizzle' | 'large-drops';

export interface IcingPhenomenon {
  readonly kind: 'icing';
  /** The heaviest of a range. */
  readonly intensity: 'moderate' | 'severe' | 'unstated';
  /** Kinds of ice that the text names; none when it names none. */
  readonly ice: readonly ('rime' | 'clear' | 'mixed')[];
  /** The first of the warning's `freezingPrecipitation`. */
  readonly cause: FreezingPrecipitation | 'unstated';
}

export type Phenomenon =
  | IcingPhenomenon
  /** The altitude of the freezing level along a line, or its range over the area of the bulletin. */
  | { readonly kind: 'freezing-level' }
  /** Where the air crosses 0 degrees Celsius more than once. */
  | { readonly kind: 'multiple-freezing-levels' }
  /** Anything else, as printed; its areas and levels are read all the same. */
  | { readonly kind: 'other'; readonly text: string }
  /** A cancellation, or a text that names no phenomenon where one must stand. */
  | { readonly kind: 'not-stated' };

export type WarningLevel =
  | { readonly kind: 'surface'; readonly altitudeFt: 0 }
  /** Flight level in ft of pressure altitude, or altitude in ft above mean sea level; never converted into each other. */
  | { readonly kind: 'flight-level' | 'altitude'; readonly altitudeFt: number }
  | {
      readonly kind: 'freezing-level';
      /** Range that the text gives for it; undefined when it gives none. */
      readonly lowestFt: number | undefined;
      readonly highestFt: number | undefined;
    };

export type LevelBand =
  | { readonly kind: 'at'; readonly level: WarningLevel }
  | { readonly kind: 'layer'; readonly lower: WarningLevel; readonly upper: WarningLevel }
  | { readonly kind: 'above'; readonly lower: WarningLevel }
  | { readonly kind: 'below'; readonly upper: WarningLevel }
  /** Tops at, above or below a level; the base is not stated. */
  | { readonly kind: 'top'; readonly upper: WarningLevel; readonly top: 'at' | 'above' | 'below' };

/** One edge of an area that goes on to the border of its region. */
export type Boundary =
  | { readonly kind: 'parallel'; readonly side: 'N' | 'S'; readonly latDeg: number }
  | { readonly kind: 'meridian'; readonly side: 'E' | 'W'; readonly lonDeg: number }
  | { readonly kind: 'line'; readonly side: string; readonly points: readonly LocatedPoint[] };

/** An area in the words of the text, before any fix is looked up. */
export type AreaStatement =
  | { readonly kind: 'polygon'; readonly points: readonly LocatedPoint[] }
  | { readonly kind: 'line'; readonly points: readonly LocatedPoint[]; readonly halfWidthM: number }
  | { readonly kind: 'circle'; readonly center: LocatedPoint; readonly radiusM: number }
  | { readonly kind: 'point'; readonly point: LocatedPoint }
  /** On all of these sides at once. */
  | { readonly kind: 'sides'; readonly boundaries: readonly Boundary[] }
  | { readonly kind: 'whole-region' }
  | { readonly kind: 'unreadable'; readonly text: string };

/** Edges are great circles; `geoJsonOf` draws them so. */
export type WarningGeometry =
  /** Vertices as printed, closed, counter-clockwise; neighbors may lie on both sides of the 180th meridian. */
  | { readonly kind: 'polygon'; readonly ring: readonly Position[] }
  | { readonly kind: 'line'; readonly points: readonly Position[]; readonly halfWidthM: number }
  | { readonly kind: 'circle'; readonly center: Position; readonly radiusM: number }
  | { readonly kind: 'point'; readonly point: Position }
  /** Open to one side, and cut by the border of the region, which nobody gave. */
  | { readonly kind: 'sides'; readonly boundaries: readonly PlacedBoundary[] }
  | { readonly kind: 'unknown'; readonly reason: string };

export type PlacedBoundary =
  | Exclude<Boundary, { readonly kind: 'line' }>
  | { readonly kind: 'line'; readonly side: string; readonly points: readonly Position[] };

export interface WarningArea {
  readonly statement: AreaStatement;
  readonly geometry: WarningGeometry;
}

export type Movement =
  | { readonly kind: 'stationary' | 'little' }
  | {
      readonly kind: 'moving';
      /** Degrees from true north of the direction it moves to. */
      readonly towardDeg: number;
      /** undefined when the text gives a direction alone. */
      readonly speedMps: number | undefined;
    };

export interface WarningRegion {
  /** ICAO location indicator. */
  readonly indicator: string;
  readonly name: string;
  /** FIR, UIR, FIR/UIR or CTA. */
  readonly type: string;
}

export interface Warning {
  readonly kind: 'warning';
  readonly form: 'sigmet' | 'airmet';
  readonly style: 'icao' | 'us';
  /** Line of the text at which it starts, from 1. */
  readonly line: number;
  /** The warning on one line. */
  readonly text: string;
  /** Number or name in its series, as printed: `2`, `A13`, `PAPA 2`, `ZULU 3`, `75C`. */
  readonly identification: string;
  /** Meteorological watch office, or the area of a bulletin of the United States. */
  readonly office: string | undefined;
  readonly region: WarningRegion | undefined;
  /** States and waters, as bulletins of the United States name them. */
  readonly places: string | undefined;
  readonly status: 'operational' | 'test' | 'exercise';
  /** What is expected after the validity of the bulletin; no warning yet. */
  readonly isOutlook: boolean;
  readonly action:
    | { readonly kind: 'warn' }
    | {
        readonly kind: 'cancel';
        readonly identification: string;
        readonly validFromMs: number | undefined;
        readonly validToMs: number | undefined;
      };
  /** Epoch ms UTC; undefined when missing or not a time. */
  readonly validFromMs: number | undefined;
  readonly validToMs: number | undefined;
  readonly phenomenon: Phenomenon;
  /** All that the text names, whatever its phenomenon is. */
  readonly freezingPrecipitation: readonly FreezingPrecipitation[];
  readonly basis: { readonly kind: 'observed' | 'forecast' | 'unstated'; readonly atMs: number | undefined };
  /** None when the text names no area. */
  readonly areas: readonly WarningArea[];
  readonly levels: LevelBand | undefined;
  readonly movement: Movement | undefined;
  readonly change: 'intensifying' | 'weakening' | 'none' | undefined;
  /** Where it is expected at a later time. */
  readonly later: { readonly atMs: number | undefined; readonly areas: readonly WarningArea[] } | undefined;
  /** How long conditions last, in the words of the text. */
  readonly conditions: string | undefined;
  readonly unread: readonly UnreadText[];
}
