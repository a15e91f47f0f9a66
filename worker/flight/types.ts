/** Shapes of a flight: route, aeroplane, exposure, candidates. SI units; altitudes are pressure or indicated, always said. */

import type { FluidType, WingSkin } from '../schema/ground-words.ts';
import type { IcingColumns, IntensityWord, LargeDropsWord, WeatherColumns } from '../science/columns.ts';
import type { DrawnIcing } from '../science/drawn-icing.ts';
import type { DirectionRule } from './candidates.ts';
import type { Hazard } from './hazards.ts';
import type { OxygenRule } from './oxygen.ts';

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
  /** Flow of a timed burst, and how long it lasts. */
  readonly maximumFlowM3PerS: number;
  readonly maximumBurstS: number;
  /** One clearing of the windshield. */
  readonly windshieldM3: number;
  readonly densityKgPerM3: number;
}

export interface BootProtection {
  readonly kind: 'boots';
  readonly cycleS: number;
  readonly minimumThicknessM: number;
}

export type OxygenKind = 'none' | 'on-board' | 'pressurized';

/** At one weight. */
export interface Aircraft {
  readonly id: string;
  readonly name: string;
  readonly trueAirspeedMps: AltitudeTable;
  readonly climbRateMps: AltitudeTable;
  readonly descentRateMps: AltitudeTable;
  readonly climbTrueAirspeedMps: number;
  readonly descentTrueAirspeedMps: number;
  readonly fuelFlowKgPerS: AltitudeTable;
  /** Pressure altitude. */
  readonly ceilingM: number;
  /** Pressure altitude; never above the ceiling. */
  readonly icedCeilingM: number;
  readonly certifiedForIcing: boolean;
  /** Indicated airspeed to hold level in icing, m/s; 0 when the flight manual gives none, undefined when the profile does not say. */
  readonly minimumIcingAirspeedMps: number | undefined;
  /** Part lost (of fuel flow: gained) for each meter of ice on unprotected parts, 1/m. */
  readonly iceLoss: {
    readonly airspeedPerM: number;
    readonly climbRatePerM: number;
    readonly fuelFlowGainPerM: number;
  };
  /** Part lost (of fuel flow: gained) while the inlet separator is on; zeros without one. */
  readonly separator: {
    readonly airspeedLoss: number;
    readonly climbRateLoss: number;
    readonly fuelFlowGain: number;
  };
  readonly wingNoseRadiusM: number;
  readonly rodRadiusM: number;
  /** Part of the stagnation temperature rise that the gauge shows, ratio; see gauge-temperature.ts. */
  readonly temperatureRecoveryRatio: number;
  readonly oxygen: OxygenKind;
  /** Types of ground fluid that the flight manual lists; undefined where the profile does not say. */
  readonly groundFluids?: readonly FluidType[] | undefined;
  /** undefined where the profile does not say. */
  readonly wingSkin?: WingSkin | undefined;
  readonly landingWithIce: { readonly flapNote: string; readonly landingDistanceGain: number };
  readonly protection: FluidProtection | BootProtection | { readonly kind: 'none' };
  /** Members of the profile that were not given and are generic figures. */
  readonly assumed: readonly string[];
}

/** The air of a leg and its icing, on one axis. */
export interface LegColumns {
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
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
  /** Taken from the tank by the trip: priming and flow, m3; zeros without a fluid system. High counts unknown air as moist. */
  readonly fluidTripM3: Spread;
  /** Needed on board: the trip, everything planned for and the reserve, m3. High counts unknown air as moist. */
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
  /** Cruise time over a gap of unknown air however far below, that within the margin included, s. */
  readonly belowUnknownS: number;
  /** Cruise time in the upper part of the ice, close under its expected top, s. */
  readonly underTopsS: number;
  /** Least indicated airspeed level in expected ice or with some on, at the high estimate of built ice, m/s; Infinity without. */
  readonly leastIcingAirspeedMps: number;
  /** Rate of climb left at the cruise with the high estimate of the climb's ice, and after the approach with all ice by then, m/s. */
  readonly climbLeftMps: number;
  /** That ice, m. */
  readonly climbedWithM: number;
  readonly missedClimbMps: number;
  /** Highest pressure altitude flown, m. */
  readonly highestM: number;
  /** Chance of large drops, named or not, with everything that is planned for. */
  readonly wholeLargeDropChance: number;
  /** Ice on unprotected parts at the end of trip, vectors and approach, that at lift-off included, m. */
  readonly builtOnApproachM: Spread;
  /** What trip, vectors and approach take from the tank, priming included, m3; zeros without a fluid system. */
  readonly fluidOnApproachM3: Spread;
  /** Time in unknown air of trip, vectors and approach. */
  readonly onApproachUnknownS: number;
  /** Ice built before the last descent, m: what the aeroplane carries aloft. */
  readonly builtAloftM: Spread;
  /** Ice on unprotected parts at lift-off, m, part of no sum. */
  readonly residualIceM: number;
  /** What is planned for beyond the trip; fluid and builtAtLandingM count it. */
  readonly planned: PlannedExposure;
  /** Ice on unprotected parts at the end of everything planned for, what was there at lift-off included, m. */
  readonly builtAtLandingM: Spread;
  /** Every part of the flight in the order flown. */
  readonly parts: readonly PartExposure[];
}

/** Parts of a flight beyond climb, cruise and descent that are planned for at the destination and beyond. */
export type PlannedPart = 'early-descent' | 'vectors' | 'approach' | 'hold' | 'alternate';

/** One part of the flight by itself. */
export interface PartExposure {
  /** taxi: priming alone. */
  readonly part: 'taxi' | FlightPhase | PlannedPart;
  /** Indicated, m; undefined for a part with many. */
  readonly altitudeM: number | undefined;
  readonly durationS: number;
  readonly unknownS: number;
  readonly icingS: Spread;
  readonly moistureBelowFreezingS: Spread;
  readonly builtM: Spread;
  /** Flow alone, m3; zeros without a fluid system. High counts unknown air as moist. */
  readonly fluidM3: Spread;
  /** Mean growth on the wing while in ice, m/s, over the draws that meet any; undefined where none does. */
  readonly growthMps: Spread | undefined;
  /** The same of the water caught, kg/m2/s: it tells of water where little of it freezes. */
  readonly catchKgPerM2S: Spread | undefined;
  /** undefined where ice is possible nowhere. */
  readonly iceAir: IceAir | undefined;
  /** Sentences of reports and warnings that the part leads through. */
  readonly reported: readonly string[];
}

/** In what air a part of a flight meets its ice, and between where and where ice is possible. */
export interface IceAir {
  /** Means, weighted by time and by the part of the draws with ice. */
  readonly temperatureK: number;
  readonly pressurePa: number;
  readonly trueAirspeedMps: number;
  /** Pressure altitudes, m. */
  readonly lowestM: number;
  readonly highestM: number;
  /** Along the route; undefined for a part that stays over one place. */
  readonly alongM: { readonly fromM: number; readonly toM: number } | undefined;
  /** Named somewhere on the part. */
  readonly hasLargeDrops: boolean;
}

/** What vectors, approach, hold and alternate meet: the same whatever altitude the trip is flown at. */
export interface PlannedExposure {
  readonly parts: readonly PartExposure[];
  readonly unknownS: number;
  /** With named large drops, s. */
  readonly largeDropS: number;
  readonly worstLargeDrops: LargeDropsWord;
  /** High estimates of time in icing and in severe icing, all parts together, s. */
  readonly icingHighS: number;
  readonly severeHighS: number;
  /** Reports and warnings on the way to the alternate, with the time in each. */
  readonly hazards: readonly { readonly hazard: Hazard; readonly metS: number }[];
  /** The parts that have most of either. */
  readonly largeDropPart: PlannedPart | undefined;
  readonly severePart: PlannedPart | undefined;
}

/** Beyond the trip: how long each part is planned for, s, and where. */
export interface Planned {
  readonly earlyDescentS: number;
  readonly vectorsS: number;
  /** Approach, missed approach and the way back up. */
  readonly approachS: number;
  readonly holdS: number;
  /** Indicated, m. */
  readonly approachAltitudeM: number;
  readonly holdAltitudeM: number;
}

/** The leg from the destination to an alternate aerodrome, with its own curtain. */
export interface AlternateLeg {
  readonly name: string;
  readonly route: RoutePoints;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly drawn: DrawnIcing;
  readonly minimum: MinimumAltitudes;
  readonly hazards?: readonly Hazard[] | undefined;
}

/** The aeroplane must be at this altitude or higher over a point of the route. */
export interface MinimumCrossing {
  readonly distanceM: number;
  /** Indicated, m. */
  readonly altitudeM: number;
  readonly name: string;
}

/** Where the minimum altitude of a point comes from, in code order: the later, the better. */
export const MINIMUM_SOURCES = [
  'unknown',
  'model-orography',
  'spot-heights',
  'terrain-tiles',
  'entered',
] as const;
export type MinimumSource = (typeof MINIMUM_SOURCES)[number];

/** Minimum altitudes along the leg, one entry a route point. */
export interface MinimumAltitudes {
  /** Indicated, m; NaN where unknown. */
  readonly altitudeM: Float64Array;
  /** Index into MINIMUM_SOURCES. */
  readonly source: Uint8Array;
  /** Highest known ground within the corridor, m true, without any allowance; NaN where none is known. */
  readonly terrainM: Float64Array;
  /** Index into MINIMUM_SOURCES of what the ground is known from, never that of entered minima. */
  readonly terrainSource: Uint8Array;
  /** Part of a minimum that stands for ground its source smooths, m; 0 where it is none. */
  readonly allowanceM: Float64Array;
  /** Entered minimum that is too near known ground and does not hold, indicated m; NaN elsewhere. */
  readonly overruledM: Float64Array;
  /** The ground that rules it out, m true, perhaps of a part of the stretch alone; NaN elsewhere. */
  readonly overrulingGroundM: Float64Array;
  /** The poorest of the points; partly-unknown where some are unknown. */
  readonly legSource: MinimumSource | 'partly-unknown';
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
  | 'needs-oxygen'
  | 'leg-too-short';

/** Fluid for one altitude against what is carried. */
export interface FluidNeed {
  /** undefined when the request does not say. */
  readonly onBoardM3: number | undefined;
  readonly neededM3: Spread;
  readonly minimumDispatchM3: number;
  readonly reserveM3: number;
  readonly windshieldM3: number;
  readonly coversHighEstimate: boolean;
}

/** A stretch of a profile: from a distance on at an indicated altitude. */
export interface ProfileLevel {
  readonly fromM: number;
  /** Indicated, m. */
  readonly altitudeM: number;
}

export interface CandidateResult {
  /** Indicated, m; the highest of a stepped profile. */
  readonly indicatedAltitudeM: number;
  readonly pressureAltitudeM: number;
  /** One for a single altitude. */
  readonly levels: readonly ProfileLevel[];
  /** Pressure altitude over each route point, climb and descent included, m; undefined for one that cannot be flown, both. */
  readonly flownM: Float64Array | undefined;
  readonly waysOut: WaysOut | undefined;
  readonly direction: Direction;
  readonly standing: Standing;
  readonly verdict: Verdict;
  /** How many rules put it outside limits; 0 for one that cannot be flown. */
  readonly limitsBroken: number;
  /** Lower than what truly keeps the minima of the leg in the cold. */
  readonly isUnderColdMinimum: boolean;
  /** undefined for an altitude that cannot be flown. */
  readonly exposure: Exposure | undefined;
  /** undefined without a fluid system or an exposure, both. */
  readonly fluid: FluidNeed | undefined;
  readonly fluidPlan: FluidPlan | undefined;
  /** What is to be said of it in at most ten words. */
  readonly inWords: string;
  /** 1 is best; undefined when not ranked. */
  readonly rank: number | undefined;
  /** Why it won or lost, and every verdict rule that holds. */
  readonly reasons: readonly FlightReason[];
}

/** stay: no ice at this level here and soon ahead; the ice lies in the climb or descent that is planned. */
export type Way = 'not-needed' | 'stay' | 'up' | 'down' | 'back' | 'aerodrome' | 'none' | 'unknown';

/** The way out that costs least at each route point, for one profile. Arrays have one entry a route point. */
export interface WaysOut {
  readonly way: readonly Way[];
  /** Indicated, m; NaN for ways that keep the altitude. */
  readonly toAltitudeM: Float64Array;
  /** Until out; NaN without a way. */
  readonly timeS: Float64Array;
  /** Expected on unprotected parts until out, m; NaN without a way. */
  readonly builtM: Float64Array;
  /** Of the aerodrome; undefined for other ways. */
  readonly aerodrome: readonly (string | undefined)[];
  /** Longest time running in expected ice without any way, s. */
  readonly longestNoneS: number;
  /** The same with those in possible ice counted whose way is unknown, s. */
  readonly longestNoneKnownS: number;
  /** Unknown for want of a minimum altitude alone. */
  readonly isMinimumMissing: boolean;
  /** The point from which leaving gathers most, should the protection fail there, and how much; undefined with nothing to leave. */
  readonly failure: FailureCase | undefined;
}

/** The protection fails at the worst place: what gathers on protected parts until the ice is left. */
export interface FailureCase {
  readonly pointIndex: number;
  readonly builtM: number;
  readonly timeS: number;
  readonly way: Way;
}

/** An aerodrome near the route where a flight may end. */
export interface NearAerodrome {
  readonly name: string;
  readonly elevationM: number;
  /** The route point whose column speaks for its air, and how far off it lies, m. */
  readonly pointIndex: number;
  readonly offsetM: number;
}

/** How the fluid goes along one profile. */
export interface FluidPlan {
  /** Time a full use of what is free lasts at each setting, s; undefined when the quantity on board is not known. */
  readonly enduranceNormalS: number | undefined;
  readonly enduranceHighS: number | undefined;
  /** Where what is on board is used up with the fluid on as it is expected to be, m along the route; undefined where it lasts. */
  readonly runsOutM: number | undefined;
  /** Stretches to have it on: from before the entry to after the exit. */
  readonly onStretches: readonly {
    readonly fromM: number;
    readonly toM: number;
    readonly setting: 'normal' | 'high';
  }[];
  /** Of what is on board, kg. */
  readonly weightKg: number | undefined;
  /** Timed bursts that what is left over at the high estimate would give; undefined where something is unknown or outside limits. */
  readonly bursts: number | undefined;
}

export interface FileAdvice {
  /** Indicated, m. */
  readonly altitudeM: number;
  readonly acceptLowerM: number;
  readonly acceptUpperM: number;
  /** At most ten words, both. */
  readonly reason: string;
  readonly acceptReason: string;
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
  /** Default: see defaultPlanned. */
  readonly planned?: Planned | undefined;
  readonly alternate?: AlternateLeg | undefined;
  readonly crossings?: readonly MinimumCrossing[] | undefined;
  readonly hazards?: readonly Hazard[] | undefined;
  readonly aerodromes?: readonly NearAerodrome[] | undefined;
  /** Ice on unprotected parts at lift-off, m. */
  readonly residualIceM?: number | undefined;
  readonly directionRule?: DirectionRule | undefined;
  readonly oxygenRule?: OxygenRule | undefined;
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
  /** The best stepped profile; undefined when no step is worth it. */
  readonly stepped: CandidateResult | undefined;
  /** The recommended one, else the least bad; undefined when nothing could be flown. */
  readonly considered: CandidateResult | undefined;
  /** What would change the decision. */
  readonly changes: readonly FlightReason[];
  /** For the altitude considered: what to have on before take-off, in order. */
  readonly beforeTakeOff: readonly FlightReason[];
  /** When to leave, whatever was forecast. */
  readonly cues: readonly FlightReason[];
  /** Facts that are not icing. */
  readonly operational: readonly FlightReason[];
}
