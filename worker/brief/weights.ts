/** How much each source counts at each route point. Pure; the figures are judgement, see the comments. */

/** An ascent serves this far from its station, m, and this far from its time, ms; beyond, the air is unknown. */
export const SOUNDING_REACH_M = 300_000;
export const SOUNDING_REACH_MS = 6 * 3_600_000;

/** E-folding lengths of an ascent's weight (judgement: humidity loses its hold sooner than temperature). */
const HUMIDITY_EFOLD_M = 120_000;
const TEMPERATURE_EFOLD_M = 250_000;
const TIME_EFOLD_MS = 4 * 3_600_000;

/**
 * Weight of a grid column at its own valid time; an ascent counts 1 at its station and hour. Near a fresh ascent the
 * observation so leads, and away from it the grid does.
 */
const GRID_WEIGHT = 0.35;

export interface SourceWeight {
  readonly humidity: number;
  readonly temperature: number;
}

/**
 * An ascent that counts less than this is too far and too old together to be known air: 300 km off at its hour, 150 km at
 * 6 h (judgement; humidity there is as uncertain as the climate's).
 */
const LEAST_WEIGHT = 0.06;

export const NO_WEIGHT: SourceWeight = { humidity: 0, temperature: 0 };

/** Weight of an ascent; none beyond its reach. */
export function soundingWeight(distanceM: number, offsetMs: number): SourceWeight {
  const isNear = distanceM <= SOUNDING_REACH_M && Math.abs(offsetMs) <= SOUNDING_REACH_MS;
  if (!isNear) return NO_WEIGHT;
  const fresh = Math.exp(-Math.abs(offsetMs) / TIME_EFOLD_MS);
  const humidity = fresh * Math.exp(-distanceM / HUMIDITY_EFOLD_M);
  if (humidity < LEAST_WEIGHT) return NO_WEIGHT;
  return { humidity, temperature: fresh * Math.exp(-distanceM / TEMPERATURE_EFOLD_M) };
}

/** Weight of a grid column used `offsetMs` from the hours it was made of. */
export function gridWeight(offsetMs: number): SourceWeight {
  const weight = GRID_WEIGHT * Math.exp(-Math.abs(offsetMs) / (4 * TIME_EFOLD_MS));
  return { humidity: weight, temperature: weight };
}
