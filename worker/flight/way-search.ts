/** What a search for ways out stands on, and what all ways ask alike. */

import { mFromFt } from '../science/units.ts';
import type { CellFacts } from './cell-facts.ts';
import type { FlightPath } from './flight-path.ts';
import type { Aircraft, MinimumAltitudes, NearAerodrome, RoutePoints, Way } from './types.ts';

export interface WayOutRequest {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly facts: CellFacts;
  readonly minimum: MinimumAltitudes;
  readonly indicatedMinusPressureM: number;
  readonly path: Extract<FlightPath, { kind: 'path' }>;
  /** Besides departure and destination. */
  readonly aerodromes: readonly NearAerodrome[];
}

/** Ice this near above or below asks for a way out. */
export const NEAR_M = mFromFt(1000);

/** Of the whole route, for all its points. */
export interface Search extends WayOutRequest {
  /** Pressure altitude flown over each point, m, and ice expected on the aeroplane there, m. */
  readonly altitudeM: Float64Array;
  readonly iceM: Float64Array;
  readonly secondsS: Float64Array;
  readonly places: readonly NearAerodrome[];
}

export interface Found {
  readonly way: Exclude<Way, 'none' | 'unknown' | 'not-needed'>;
  readonly timeS: number;
  readonly builtM: number;
  /** Pressure altitude. */
  readonly toM?: number;
  readonly aerodrome?: string;
}
/** Not known for want of air, or for want of a minimum altitude. */
export type Outcome = Found | 'none' | 'unknown-air' | 'unknown-minimum';

/**
 * No way out takes longer, nor gathers more on the way (judgement): climbing for half an hour in ice is staying in it. s and m.
 */
const LONGEST_WAY_S = 900;
const LONGEST_VERTICAL_WAY_S = 600;
const MOST_BUILT_M = 0.005;

/** A way found, or none when it costs too much. */
export function worthIt(found: Found): Outcome {
  const isVertical = found.way === 'up' || found.way === 'down';
  const longestS = isVertical ? LONGEST_VERTICAL_WAY_S : LONGEST_WAY_S;
  return found.timeS <= longestS && found.builtM <= MOST_BUILT_M ? found : 'none';
}

/**
 * The greatest minimum of the points that an aeroplane reaches within a time from one of them, m pressure altitude; NaN where one
 * of them is unknown.
 */
export function minimumWithinM(
  { route, minimum, aircraft, indicatedMinusPressureM }: Search,
  point: number,
  timeS: number,
): number {
  const reachM = route.distanceM[point]! + timeS * aircraft.descentTrueAirspeedMps;
  let highestM = minimum.altitudeM[point]!;
  for (let ahead = point + 1; ahead < route.pointCount && route.distanceM[ahead]! <= reachM; ahead += 1) {
    highestM = Math.max(highestM, minimum.altitudeM[ahead]!);
  }
  return highestM - indicatedMinusPressureM;
}
