/** An ascent as JSON for people: hectopascals, degrees Celsius and knots, null where a value is missing. */
import { cFromK, hPaFromPa, ktFromMps } from '../science/units.ts';
import type { Rejection, Sounding } from './sounding.ts';

export interface InspectedLevel {
  readonly pressureHPa: number;
  /** Geopotential height above mean sea level, gpm. */
  readonly heightM: number | null;
  readonly temperatureC: number | null;
  readonly dewPointC: number | null;
  readonly windDirectionDeg: number | null;
  readonly windSpeedKt: number | null;
}

export interface InspectedSounding {
  readonly kind: 'sounding';
  readonly station: string;
  readonly latDeg: number | null;
  readonly lonDeg: number | null;
  /** ISO 8601 ending in Z; null when the file gives no hour. */
  readonly timeUtc: string | null;
  readonly levels: readonly InspectedLevel[];
  readonly rejected: readonly Rejection[];
}

/**
 * @returns  the ascent, levels highest pressure first: hPa and degC to 0.01, gpm, deg and kt to 0.1, position to
 *           0.0001 deg; null where the sounding has NaN. Never throws.
 */
export function inspectSounding(sounding: Sounding): InspectedSounding {
  const { levels } = sounding;
  return {
    kind: 'sounding',
    station: sounding.stationId,
    latDeg: rounded(sounding.latDeg, 4),
    lonDeg: rounded(sounding.lonDeg, 4),
    timeUtc: Number.isFinite(sounding.timeMs) ? isoSeconds(sounding.timeMs) : null,
    levels: Array.from(levels.pressurePa, (pressurePa, index) => ({
      pressureHPa: Number(hPaFromPa(pressurePa).toFixed(2)),
      heightM: rounded(levels.geopotentialHeightM[index]!, 1),
      temperatureC: rounded(cFromK(levels.temperatureK[index]!), 2),
      dewPointC: rounded(cFromK(levels.dewPointK[index]!), 2),
      windDirectionDeg: rounded(levels.windDirectionDeg[index]!, 1),
      windSpeedKt: rounded(ktFromMps(levels.windSpeedMps[index]!), 1),
    })),
    rejected: sounding.rejected.map(({ line, reason }) => ({ line, reason })),
  };
}

function isoSeconds(timeMs: number): string {
  return new Date(timeMs).toISOString().replace('.000Z', 'Z');
}

/** Rounded to so many decimals, without the sign of a negative zero; null for NaN. */
function rounded(value: number, decimals: number): number | null {
  return Number.isFinite(value) ? Number(value.toFixed(decimals)) + 0 : null;
}
