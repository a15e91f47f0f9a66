/** What a pilot enters to report, as typed values, and what composing makes of it. */
import type {
  IceKind,
  IcingIntensity,
  ReportedLayer,
  SkyAmount,
  TurbulenceIntensity,
  TurbulenceKind,
} from './report.ts';

/** Over a fix, or on its radial, counted from its own north (1 to 360), whole nautical miles away from it. */
export type EntryPlace =
  | { readonly kind: 'fix'; readonly identifier: string }
  | {
      readonly kind: 'radial';
      readonly identifier: string;
      readonly radialDeg: number;
      readonly distanceNm: number;
    };

/**
 * A layer of the sky, ft above mean sea level; the form says "unknown" or nothing where a height is not known. `clear`
 * has no heights and comes last: nothing above. `unstated` has a top alone.
 */
export interface EntrySkyLayer {
  readonly thinnest: SkyAmount;
  readonly thickest: SkyAmount;
  readonly baseFt?: number | 'unknown' | undefined;
  readonly topFt?: number | 'unknown' | undefined;
}

/** What was met from one altitude to another; one alone is "above" or "below" it, none is the report's own. */
export interface EntryLayer<Intensity, Kind>
  extends Pick<ReportedLayer<Intensity, Kind>, 'lightest' | 'heaviest' | 'what'> {
  readonly lowerFt?: number | undefined;
  readonly upperFt?: number | undefined;
}

type MetIcing = Exclude<IcingIntensity, 'none' | 'unstated'>;
type MetTurbulence = Exclude<TurbulenceIntensity, 'none' | 'unstated'>;
type EntryTurbulenceKind = Exclude<TurbulenceKind, 'mountain-wave'>;

/** `none` is told, and is written NEG; `not-reported` leaves the element out. */
export type EntryIcing =
  | { readonly kind: 'not-reported' | 'none' }
  | ({ readonly kind: 'met' } & EntryLayer<MetIcing, IceKind>);
export type EntryTurbulence =
  | { readonly kind: 'not-reported' | 'none' }
  | ({ readonly kind: 'met' } & EntryLayer<MetTurbulence, EntryTurbulenceKind>);

/** Altitudes are ft above mean sea level, in hundreds. Letters may be small. What is undefined is not known. */
export interface ReportEntry {
  /** Weather location nearest to what is reported: three or four letters and figures. */
  readonly station: string;
  readonly place: EntryPlace;
  /** Epoch ms UTC; the form has its hour and minute. */
  readonly timeMs: number;
  readonly altitudeFt: number | undefined;
  readonly phase: 'climb' | 'descent' | undefined;
  /** Type designator, two to four letters and figures. */
  readonly aircraftType: string | undefined;
  readonly sky: readonly EntrySkyLayer[];
  /** Flight visibility, whole statute miles. */
  readonly visibilitySm: number | 'unrestricted' | undefined;
  /** Groups of present weather as in aerodrome reports, as `-FZRA`. */
  readonly weather: readonly string[];
  readonly temperatureC: number | undefined;
  /** Where it blows from, degrees magnetic, 1 to 360. */
  readonly wind: { readonly directionDeg: number; readonly speedKt: number } | undefined;
  readonly turbulence: EntryTurbulence;
  readonly icing: EntryIcing;
  /** Free words; whoever writes them puts the most hazardous first. */
  readonly remarks: string;
  /** Makes a report urgent that would not be by its elements. */
  readonly isJudgedHazardous: boolean;
}

/** An entry that the form cannot carry. */
export interface EntryFault {
  /** Path of the member, as `sky.0.baseFt`. */
  readonly field: string;
  readonly found: string;
  readonly expected: string;
}

export type ComposedReport =
  | { readonly kind: 'composed'; readonly text: string; readonly isUrgent: boolean }
  | { readonly kind: 'faults'; readonly faults: readonly EntryFault[] };
