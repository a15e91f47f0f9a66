/** Shapes of a flight: route, aeroplane, exposure, candidates. SI units; altitudes are pressure or indicated, always said. */
import type { IcingColumns, IntensityWord, LargeDropsWord, WeatherColumns } from '../science/columns.ts';
import type { DrawnIcing } from '../science/drawn-icing.ts';
import type { Hazard } from './hazards.ts';

/** A named or computed place on the route. */
export interface Fix {
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Aerodrome elevation, m; NaN for a fix that is none. */
  readonly elevationM: number;
}

/** Points along the great circles between fixes, at most the asked spacing apart; every fix is a point. */
export interface RoutePoints {
  readonly pointCount: number;
  readonly latDeg: Float64Array;
  readonly lonDeg: Float64Array;
  /** Distance flown from the first point, m. */
  readonly distanceM: Float64Array;
  /** True course towards the next point (last point: on arrival from the one before), rad clockwise from north. */
  readonly courseRad: Float64Array;
  /** Index into fixes for points that are fixes, else -1. */
  readonly fixIndex: Int16Array;
  readonly fixes: readonly Fix[];
}

/** Wind at a route point and pressure altitude, or undefined where it is unknown. */
export type WindAt = (
  pointIndex: number,
  pressureAltitudeM: number,
) => { readonly eastMps: number; readonly northMps: number } | undefined;

/** Tabulated performance: values at ascending pressure altitudes, linear between, constant outside. */
export interface AltitudeTable {
  readonly pressureAltitudeM: readonly number[];
  readonly value: readonly number[];
}

/** Fluid ice protection; every number comes from the flight manual. */
export interface FluidProtection {
  readonly kind: 'fluid';
  readonly usableM3: number;
  readonly minimumDispatchM3: number;
  readonly normalFlowM3PerS: number;
  readonly highFlowM3PerS: number;
  readonly primingM3: number;
  /** Kept for approach and landing, s at normal flow. */
  readonly reserveS: number;
}

export interface Aircraft {
  readonly id: string;
  readonly name: string;
  readonly trueAirspeedMps: AltitudeTable;
  readonly climbRateMps: AltitudeTable;
  readonly descentRateMps: number;
  readonly climbTrueAirspeedMps: number;
  readonly descentTrueAirspeedMps: number;
  readonly fuelFlowKgPerS: AltitudeTable;
  /** Pressure altitude. */
  readonly ceilingM: number;
  readonly certifiedForIcing: boolean;
  readonly wingNoseRadiusM: number;
  readonly rodRadiusM: number;
  /** Part of the stagnation temperature rise that the gauge shows, ratio. */
  readonly temperatureRecoveryRatio: number;
  readonly protection: FluidProtection | { readonly kind: 'boots' } | { readonly kind: 'none' };
}

/** Low, middle and high estimate of one amount; low <= middle <= high always. */
export interface Spread {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

export type FlightPhase = 'climb' | 'cruise' | 'descent';

/** What a profile through the curtain meets. Unknown time is counted apart and never as ice-free. */
export interface Exposure {
  readonly totalS: number;
  readonly climbS: number;
  readonly cruiseS: number;
  readonly descentS: number;
  readonly unknownS: number;
  readonly icingS: Spread;
  /** Part of the draws that meet any ice in known air, 0-1, and the mean of its time over all draws, s. */
  readonly iceChance: number;
  readonly expectedIcingS: number;
  /** The high estimate of icing time, by phase. */
  readonly icingHighByPhaseS: Readonly<Record<FlightPhase, number>>;
  /** Time at each intensity or worse, each with estimates of its own. */
  readonly intensityS: Readonly<Record<Exclude<IntensityWord, 'none'>, Spread>>;
  readonly largeDropS: number;
  readonly largeDropByPhaseS: Readonly<Record<FlightPhase, number>>;
  readonly worstLargeDrops: LargeDropsWord;
  /** Part of the draws that meet supercooled large drops anywhere in known air, named or not, 0-1. */
  readonly largeDropChance: number;
  /** At the high estimate. */
  readonly worstIntensity: IntensityWord;
  readonly moistureBelowFreezingS: Spread;
  /** Ice on the unprotected outer wing, m. */
  readonly builtM: Spread;
  /** Water caught at the wing's stagnation line, kg/m2. */
  readonly caughtKgPerM2: Spread;
  /** Fluid needed: priming, flow and reserve, m3; zeros without a fluid system. High counts unknown air as moist. */
  readonly fluidM3: Spread;
  /** The high estimate of fluid over known air alone, m3. */
  readonly fluidHighKnownM3: number;
  readonly fuelKg: number;
  /** Mean headwind in cruise, m/s; NaN where wind is unknown all along. */
  readonly headwindMps: number;
  /** Time flown as in still air because the wind is unknown, s. */
  readonly windUnknownS: number;
  /** True airspeed in cruise, m/s. */
  readonly trueAirspeedMps: number;
  /** Mean static air temperature in cruise, K; NaN where unknown all along. */
  readonly staticTemperatureK: number;
  /** Liquid water over the certified continuous maximum, greatest on the path, ratio. */
  readonly greatestEnvelopeRatio: number;
  /**
   * Least height of the cruise above a moist or icy cell below it, m; Infinity where none lies within the margin that
   * counts as "on top". Zero or less inside such a cell.
   */
  readonly topsMarginM: number;
  /** Cruise time with unknown air within that margin below, s. */
  readonly topsUnknownS: number;
}

/** Where the minimum altitude of a point comes from, in code order. */
export const MINIMUM_SOURCES = ['unknown', 'spot-heights', 'entered'] as const;
export type MinimumSource = (typeof MINIMUM_SOURCES)[number];

/** Minimum altitudes along the leg, one entry a route point. */
export interface MinimumAltitudes {
  /** Indicated, m; NaN where unknown. */
  readonly altitudeM: Float64Array;
  /** Index into MINIMUM_SOURCES. */
  readonly source: Uint8Array;
  /** Highest known ground within the corridor, m true; NaN where none is known. */
  readonly terrainM: Float64Array;
  /** Entered minimum that is too near known ground and does not hold, indicated m; NaN elsewhere. */
  readonly overruledM: Float64Array;
  readonly legSource: 'entered' | 'spot-heights' | 'partly-unknown' | 'unknown';
}

/** A sentence made of numbers, with the numbers beside it (feet, knots, minutes, liters: ready for the edge). */
export interface FlightReason {
  readonly code: string;
  readonly sentence: string;
  readonly numbers: Record<string, number | string>;
}

export type Verdict = 'no-ice-found' | 'within-limits' | 'outside-limits' | 'unknown';
export type Direction = 'right-way' | 'ask';
export type Standing =
  | 'recommended'
  | 'acceptable'
  | 'outside-limits'
  | 'unknown'
  | 'below-minimum-altitude'
  | 'above-ceiling'
  | 'leg-too-short';

/** Fluid for one altitude against what is carried. */
export interface FluidNeed {
  /** undefined when the request does not say. */
  readonly onBoardM3: number | undefined;
  readonly neededM3: Spread;
  readonly minimumDispatchM3: number;
  readonly coversHighEstimate: boolean;
}

export interface CandidateResult {
  /** Indicated, m. */
  readonly indicatedAltitudeM: number;
  readonly pressureAltitudeM: number;
  readonly direction: Direction;
  readonly standing: Standing;
  readonly verdict: Verdict;
  /** undefined for an altitude that cannot be flown. */
  readonly exposure: Exposure | undefined;
  /** undefined without a fluid system or an exposure. */
  readonly fluid: FluidNeed | undefined;
  /** 1 is best; undefined when not ranked. */
  readonly rank: number | undefined;
  /** Why it won or lost, and every verdict rule that holds. */
  readonly reasons: readonly FlightReason[];
}

export type Way = 'not-needed' | 'up' | 'down' | 'back' | 'none' | 'unknown';

/** The nearest way out at one route point, at the altitude considered. */
export interface WayOut {
  readonly pointIndex: number;
  readonly distanceM: number;
  readonly way: Way;
  /** Indicated, m; undefined for ways that keep the altitude. */
  readonly toAltitudeM: number | undefined;
}

export interface FileAdvice {
  /** Indicated, m. */
  readonly altitudeM: number;
  readonly acceptLowerM: number;
  readonly acceptUpperM: number;
  /** At most ten words. */
  readonly reason: string;
  readonly refuse: readonly {
    readonly altitudeM: number;
    readonly reason: string;
  }[];
}

/** All that the choice of an altitude stands on. */
export interface ChooseInput {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly drawn: DrawnIcing;
  readonly minimum: MinimumAltitudes;
  /** Indicated minus pressure altitude, m; zero on the standard setting. */
  readonly indicatedMinusPressureM: number;
  /** Indicated, m, any order, no duplicates. */
  readonly candidateAltitudesM: readonly number[];
  /** For the magnetic model, epoch ms. */
  readonly departureMs: number;
  /** undefined when the request does not say. */
  readonly fluidOnBoardM3: number | undefined;
  /** Reported or warned of on the leg. */
  readonly hazards?: readonly Hazard[] | undefined;
}

export interface Choice {
  readonly verdict: {
    readonly code: Verdict;
    readonly sentence: string;
    readonly reasons: readonly FlightReason[];
  };
  /** Highest altitude first. */
  readonly candidates: readonly CandidateResult[];
  /** undefined when no candidate is acceptable. */
  readonly recommended: CandidateResult | undefined;
  /** undefined when no candidate is acceptable. */
  readonly file: FileAdvice | undefined;
  /** Of the recommended altitude, else of the least bad one; undefined without a fluid system. */
  readonly fluid: FluidNeed | undefined;
  /** One a route point, for the recommended altitude, else the least bad one; empty when nothing could be flown. */
  readonly waysOut: readonly WayOut[];
  /** Facts that are not icing. */
  readonly operational: readonly FlightReason[];
}
