/** The wind triangle: what a wind does to an aeroplane that holds a track. */
import { CELL_STATE, type WeatherColumns } from '../science/columns.ts';
import { cellAt } from './cells.ts';
import type { WindAt } from './types.ts';

/** The components of a wind along and across a course, m/s. */
export interface WindComponents {
  /** Positive against the aeroplane. */
  readonly headwindMps: number;
  /** Positive from the left. */
  readonly crosswindMps: number;
}

export function windComponents(
  wind: { readonly eastMps: number; readonly northMps: number },
  courseRad: number,
): WindComponents {
  const sin = Math.sin(courseRad);
  const cos = Math.cos(courseRad);
  return {
    headwindMps: -(wind.eastMps * sin + wind.northMps * cos),
    crosswindMps: wind.eastMps * cos - wind.northMps * sin,
  };
}

/** Speed over the ground on the course, nose turned into the wind; NaN when the crosswind alone is too strong. */
export function groundSpeedMps(trueAirspeedMps: number, wind: WindComponents): number {
  const forward = trueAirspeedMps ** 2 - wind.crosswindMps ** 2;
  return forward < 0 ? Number.NaN : Math.sqrt(forward) - wind.headwindMps;
}

/** Wind of the cell that holds a place and altitude; undefined where the cell or its wind is unknown. */
export function windFromColumns(weather: WeatherColumns): WindAt {
  const { axis, state, windEastMps, windNorthMps } = weather;
  return (pointIndex, pressureAltitudeM) => {
    const cell = cellAt(axis, pressureAltitudeM);
    if (cell === undefined) return undefined;
    const index = pointIndex * axis.cellCount + cell;
    if (state[index] !== CELL_STATE.known) return undefined;
    const eastMps = windEastMps[index]!;
    const northMps = windNorthMps[index]!;
    return Number.isFinite(eastMps + northMps) ? { eastMps, northMps } : undefined;
  };
}
