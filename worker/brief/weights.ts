/**
 * How much each source counts at each route point. Pure; the figures are judgement, see the comments.
 *
 * A weight is the square of what a source still knows of the place (its hold): sources are weighed by the inverse of their
 * error variance, so that a near ascent screens far ones and many far ones do not outvote it.
 */

/** An ascent serves this far from its station, m, and this far from its time, ms; beyond, the air is unknown. */
export const SOUNDING_REACH_M = 300_000;
export const SOUNDING_REACH_MS = 6 * 3_600_000;

/** E-folding lengths of an ascent's hold (judgement: humidity loses its hold sooner than temperature). */
const HUMIDITY_EFOLD_M = 120_000;
const TEMPERATURE_EFOLD_M = 250_000;
const TIME_EFOLD_MS = 4 * 3_600_000;

/**
 * Hold of a grid column at its own valid time; that of an ascent is 1 at its station and hour. Near a fresh ascent the
 * observation so leads, and from 125 km on the grid does.
 */
const GRID_HOLD = 0.35;

export interface SourceWeight {
  readonly humidity: number;
  readonly temperature: number;
}

/**
 * An ascent with less hold than this is too far and too old together to be known air: 300 km off at its hour, 150 km at
 * 6 h (judgement; humidity there is as uncertain as the climate's).
 */
const LEAST_HOLD = 0.06;

export const NO_WEIGHT: SourceWeight = { humidity: 0, temperature: 0 };

/** Weight of an ascent; none beyond its reach. */
export function soundingWeight(distanceM: number, offsetMs: number): SourceWeight {
  const isNear = distanceM <= SOUNDING_REACH_M && Math.abs(offsetMs) <= SOUNDING_REACH_MS;
  if (!isNear) return NO_WEIGHT;
  const fresh = Math.exp(-Math.abs(offsetMs) / TIME_EFOLD_MS);
  const humidity = fresh * Math.exp(-distanceM / HUMIDITY_EFOLD_M);
  if (humidity < LEAST_HOLD) return NO_WEIGHT;
  return squared(humidity, fresh * Math.exp(-distanceM / TEMPERATURE_EFOLD_M));
}

/** Weight of a grid column used `offsetMs` from the hours it was made of. */
export function gridWeight(offsetMs: number): SourceWeight {
  const hold = GRID_HOLD * Math.exp(-Math.abs(offsetMs) / (4 * TIME_EFOLD_MS));
  return squared(hold, hold);
}

const squared = (humidity: number, temperature: number): SourceWeight => ({
  humidity: humidity * humidity,
  temperature: temperature * temperature,
});
