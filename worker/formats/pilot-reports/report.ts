/**
 * One pilot's report as typed values. A quantity that the text does not give is undefined, or says so in its `kind`;
 * an element that is absent, one that reports nothing met, and one that cannot be read are three different things.
 */
import type { IceKindWord, IntensityWord } from '../../science/columns.ts';

/** Words of a report that no rule reads, kept with the element they stand in. */
export interface UnreadText {
  /** Code of the element (`IC`), or `report` outside of elements. */
  readonly element: string;
  readonly text: string;
  /** What was found and what was expected. */
  readonly reason: string;
}

/** Altitudes in ft above mean sea level, or of flight levels as printed: nobody converts one to the other here. */
export type AltitudeBand =
  | {
      readonly kind: 'layer';
      readonly lowerFt: number;
      /** Equal to the lower one where one altitude is given. */
      readonly upperFt: number;
      /** False where the element gives no altitude and the report's own is taken, as the form says. */
      readonly isStated: boolean;
    }
  | { readonly kind: 'below'; readonly upperFt: number }
  | { readonly kind: 'above'; readonly lowerFt: number }
  | { readonly kind: 'unknown' };

export type IcingIntensity = IntensityWord | 'unstated';
export type IceKind = Exclude<IceKindWord, 'none'> | 'unstated';
export type TurbulenceIntensity = 'none' | 'light' | 'moderate' | 'severe' | 'extreme' | 'unstated';
export type TurbulenceKind = 'clear-air' | 'chop' | 'mountain-wave' | 'unstated';
export type Frequency = 'continuous' | 'intermittent' | 'occasional' | 'isolated' | 'frequent' | 'unstated';

export interface ReportedLayer<Intensity, Kind> {
  /** Ends of the range of intensity; equal where one is given. `none` twice is an explicit "nothing met". */
  readonly lightest: Intensity;
  readonly heaviest: Intensity;
  readonly what: Kind;
  readonly frequency: Frequency;
  readonly band: AltitudeBand;
}

/** An element that describes layers: absent, read, or present without anything that can be read. */
export type LayerElement<Layer> =
  | { readonly kind: 'not-reported' }
  | {
      readonly kind: 'reported';
      /** Element of the form that the words stood in; icing is sometimes typed under turbulence. */
      readonly element: string;
      /** At least one. */
      readonly layers: readonly Layer[];
    }
  | { readonly kind: 'unreadable'; readonly text: string };

export type IcingLayer = ReportedLayer<IcingIntensity, IceKind>;
export type TurbulenceLayer = ReportedLayer<TurbulenceIntensity, TurbulenceKind>;
export type IcingElement = LayerElement<IcingLayer>;
export type TurbulenceElement = LayerElement<TurbulenceLayer>;

export type SkyAmount = 'clear' | 'few' | 'scattered' | 'broken' | 'overcast' | 'unstated';

/** A height, or the range of heights that the report gives for it; ft above mean sea level. */
export interface HeightRange {
  readonly lowerFt: number;
  readonly upperFt: number;
}

export interface SkyLayer {
  readonly thinnest: SkyAmount;
  readonly thickest: SkyAmount;
  /** undefined where the report says unknown, or nothing. */
  readonly base: HeightRange | undefined;
  readonly top: HeightRange | undefined;
}

export interface WeatherElement {
  /** Flight visibility, m; infinite for "unrestricted" (FV99SM); undefined when not given. */
  readonly visibilityM: number | undefined;
  /** Groups of present weather as in aerodrome reports (`-FZRA`); `FREEZING RAIN` in words is `FZRA`. */
  readonly phenomena: readonly string[];
  /** False where words about weather were not read: more may have been met than the groups tell. */
  readonly isWhole: boolean;
}

export interface ReportedWind {
  readonly directionDeg: number;
  readonly north: 'magnetic' | 'true';
  readonly speedMps: number;
}

/** One place of a location. */
export type LocatedPoint =
  | { readonly kind: 'fix'; readonly identifier: string }
  | {
      readonly kind: 'radial';
      readonly identifier: string;
      /** As printed: from the fix, counted from its own north. */
      readonly radialDeg: number;
      readonly distanceM: number;
    }
  | {
      readonly kind: 'direction';
      readonly identifier: string;
      /** Point of the compass, taken from true north. */
      readonly bearingDeg: number;
      readonly distanceM: number;
    }
  | { readonly kind: 'coordinates'; readonly latDeg: number; readonly lonDeg: number };

export type ReportLocation =
  | { readonly kind: 'points'; readonly points: readonly LocatedPoint[] }
  /** On or near a runway, or over the field: of the aerodrome that the report begins with. */
  | { readonly kind: 'at-station'; readonly text: string }
  | { readonly kind: 'not-reported' }
  | { readonly kind: 'unreadable'; readonly text: string };

/** How a radial was turned to true north. */
export type RadialNorth = 'no-radial' | 'variation-of-fix' | 'taken-as-true';

export interface PlacedPoint {
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly radialNorth: RadialNorth;
}

export type ReportPlace =
  | {
      readonly kind: 'point' | 'legs';
      /** One for a point, two or more for legs. */
      readonly points: readonly PlacedPoint[];
    }
  | { readonly kind: 'unknown'; readonly reason: string };

export type ReportLevel =
  | { readonly kind: 'altitude'; readonly altitudeFt: number }
  | { readonly kind: 'layer'; readonly lowerFt: number; readonly upperFt: number }
  | { readonly kind: 'unknown' };

/** A text outside the element of icing that names ice or freezing precipitation. */
export interface IcingMention {
  /** Code of the element, or `report` outside of elements. */
  readonly element: string;
  readonly text: string;
}

export interface PilotReport {
  readonly kind: 'pilot-report';
  /** UA and UUA of the United States and Canada, or the air-report of ICAO. */
  readonly form: 'pirep' | 'airep';
  /** UUA, and special air-reports (ARS), are urgent. */
  readonly urgency: 'routine' | 'urgent';
  /** Line of the text at which it starts, from 1. */
  readonly line: number;
  /** The report on one line. */
  readonly text: string;
  /** Weather station nearest to what is reported; air-reports have none. */
  readonly station: string | undefined;
  /** Radio call sign; air-reports only. */
  readonly aircraft: string | undefined;
  /** Type designator; undefined when unknown. */
  readonly aircraftType: string | undefined;
  /** Epoch ms UTC; undefined when the time is missing or cannot be read. */
  readonly timeMs: number | undefined;
  readonly location: ReportLocation;
  readonly place: ReportPlace;
  readonly level: ReportLevel;
  readonly phase: 'climb' | 'descent' | undefined;
  readonly sky: LayerElement<SkyLayer>;
  /** The report says that it was made in cloud (IMC under sky). */
  readonly isInCloud: boolean;
  readonly weather: WeatherElement;
  readonly temperatureK: number | undefined;
  readonly wind: ReportedWind | undefined;
  readonly icing: IcingElement;
  /** Beside `icing`, which they do not change: while there are any, the report is no null report. */
  readonly icingMentions: readonly IcingMention[];
  readonly turbulence: TurbulenceElement;
  /** As text; nothing in it changes the values above, but elements typed after it are read where they are missing. */
  readonly remarks: string | undefined;
  readonly unread: readonly UnreadText[];
}

/**
 * True for a report that says, in so many words, that no ice was met, and names none anywhere else: a null report, not a
 * missing one.
 */
export function isNullIcing({ icing, icingMentions }: Pick<PilotReport, 'icing' | 'icingMentions'>): boolean {
  const isDenied = icing.kind === 'reported' && icing.layers.every(({ heaviest }) => heaviest === 'none');
  return isDenied && icingMentions.length === 0;
}
