/** An invented leg with the decision a careful pilot would come to, argued in words and written down before any rule. */
import type { Verdict } from '../../../worker/flight/types.ts';
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import type { CellAt } from '../make-curtain.ts';

/** Something reported or warned of, in the units of the cockpit. */
export interface SituationHazard {
  readonly kind: 'warning' | 'surface-report' | 'surface-forecast' | 'pilot-report';
  readonly severity: 'unstated' | 'moderate' | 'severe' | 'large-drops';
  readonly sentence: string;
  readonly fromNm: number;
  readonly toNm: number;
  /** Left out: not stated, so every altitude. */
  readonly lowerFt?: number;
  readonly upperFt?: number;
}

export interface Situation {
  /** A sentence. */
  readonly title: string;
  /** Why the expected decision is right, as a pilot would argue it to another. */
  readonly argument: string;
  /** Default: 186 NM due north, both aerodromes at sea level; a route point at most every 5 NM. */
  readonly lengthNm?: number;
  readonly departureElevationFt?: number;
  readonly destinationElevationFt?: number;
  /** Of each cell; what is left out is still, dry, ice-free air at -10 degC. Unknown air: UNKNOWN of make-curtain. */
  readonly air: CellAt;
  /** Indicated; default 3,000 ft all along. Stretches that nothing covers are unknown. */
  readonly minimumAltitudes?: readonly {
    readonly fromNm: number;
    readonly toNm: number;
    readonly altitudeFt: number;
  }[];
  readonly crossings?: readonly { readonly atNm: number; readonly altitudeFt: number }[];
  /** Default: the generic fluid turboprop. */
  readonly aircraftId?: string;
  readonly aircraftChange?: Partial<AircraftProfile>;
  /** Default 80 L; undefined as a value is not the default: write null for "not given". */
  readonly fluidOnBoardL?: number | null;
  readonly holdMinutes?: number;
  readonly residualIceMm?: number;
  readonly hazards?: readonly SituationHazard[];
  readonly expected: {
    readonly verdict: Verdict;
    /** The recommended altitude lies in this range (the highest level of a stepped profile too); none: nothing is recommended. */
    readonly fileFt: readonly [number, number] | 'none';
    /** Left out: either is right. */
    readonly isStepped?: boolean;
    /** Codes that stand among the verdict's reasons, and codes that must not. */
    readonly reasons?: readonly string[];
    readonly notReasons?: readonly string[];
    /** Single altitudes that are not acceptable: outside limits, unknown, or not to be flown. */
    readonly refusedFt?: readonly number[];
    /** Single altitudes that are acceptable. */
    readonly acceptableFt?: readonly number[];
  };
}
