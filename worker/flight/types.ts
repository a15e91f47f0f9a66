/** Shapes of a flight: route, aeroplane, exposure, candidates. SI units; altitudes are pressure or indicated, always said. */
import type { IntensityWord, LargeDropsWord } from "../science/columns.ts";

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
	/** True course towards the next point (last point: from the one before), rad clockwise from north. */
	readonly courseRad: Float64Array;
	/** Index into fixes for points that are fixes, else -1. */
	readonly fixIndex: Int16Array;
	readonly fixes: readonly Fix[];
}

/** Tabulated performance: values at ascending pressure altitudes, linear between, constant outside. */
export interface AltitudeTable {
	readonly pressureAltitudeM: readonly number[];
	readonly value: readonly number[];
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
	readonly ceilingM: number;
	readonly certifiedForIcing: boolean;
	readonly wingNoseRadiusM: number;
	readonly rodRadiusM: number;
	/** Part of the stagnation temperature rise that the gauge shows, ratio. */
	readonly temperatureRecoveryRatio: number;
	readonly protection:
		| {
				readonly kind: "fluid";
				readonly usableM3: number;
				readonly minimumDispatchM3: number;
				readonly normalFlowM3PerS: number;
				readonly highFlowM3PerS: number;
				readonly primingM3: number;
				/** Kept for approach and landing, s at normal flow. */
				readonly reserveS: number;
		  }
		| { readonly kind: "boots" }
		| { readonly kind: "none" };
}

/** Low, middle and high estimate of one amount. */
export interface Spread {
	readonly low: number;
	readonly middle: number;
	readonly high: number;
}

/** What a profile through the curtain meets. Unknown time is counted apart and never as ice-free. */
export interface Exposure {
	readonly totalS: number;
	readonly climbS: number;
	readonly cruiseS: number;
	readonly descentS: number;
	readonly unknownS: number;
	readonly icingS: Spread;
	readonly intensityS: Readonly<Record<IntensityWord, Spread>>;
	readonly largeDropS: number;
	readonly worstLargeDrops: LargeDropsWord;
	readonly worstIntensity: IntensityWord;
	readonly moistureBelowFreezingS: Spread;
	/** Ice on the unprotected outer wing, m. */
	readonly builtM: Spread;
	/** Fluid used from priming to landing, m3; zeros without a fluid system. */
	readonly fluidM3: Spread;
	readonly fuelKg: number;
	/** Mean headwind in cruise, m/s; NaN where wind is unknown all along. */
	readonly headwindMps: number;
	/** Mean static air temperature in cruise, K; NaN where unknown all along. */
	readonly staticTemperatureK: number;
	readonly greatestEnvelopeRatio: number;
}
