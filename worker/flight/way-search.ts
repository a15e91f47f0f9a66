/** What a search for ways out stands on, and what all ways ask alike. */

import { mFromFt } from '../science/units.ts';
import type { CellFacts } from './cell-facts.ts';
import { FACT } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import { answersBetween, END_M } from './column-range.ts';
import { ICE_UNLIKELY } from './estimates.ts';
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
 * The chance of ice in air that is good enough to get out to: little, or a third of what is left behind (judgement). Where
 * forecasts are old nothing is free of chance, and going where ice is far less likely is still the way.
 */
export function mostChanceFrom({ facts, altitudeM }: Search, point: number): number {
  const cell = cellNumber(facts, altitudeM[point]!);
  const isInside = cell >= 0 && cell < facts.cellCount;
  const index = point * facts.cellCount + cell;
  const isKnown = isInside && (facts.answers[index]! & FACT.known) !== 0;
  return Math.max(ICE_UNLIKELY, isKnown ? facts.iceChance[index]! / 3 : 0);
}

/** Already in severe icing or large drops: then any way through them is better than staying. */
export function isInDanger({ facts, altitudeM }: Search, point: number): boolean {
  const atM = altitudeM[point]!;
  return (answersBetween(facts, point, atM, atM + 2 * END_M).any & FACT.danger) !== 0;
}
