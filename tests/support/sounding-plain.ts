/** One ascent as a person would type it: the input of the IGRA and FM 35 writers. */

export interface PlainLevel {
  /** hPa; levels stand highest pressure first and no two share a coded pressure. */
  readonly pressureHPa: number;
  /** Geopotential height above mean sea level, gpm; left out when missing. */
  readonly heightM?: number;
  readonly temperatureC?: number;
  /** Over liquid water; needs the temperature beside it. */
  readonly dewPointC?: number;
  /** Where the wind comes from, 0-360 deg from true north. */
  readonly windDirectionDeg?: number;
  readonly windSpeedKt?: number;
}

export interface PlainSounding {
  /** Eleven characters for IGRA (ZZM00000901, say), five figures for FM 35 (00901). */
  readonly stationId: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Nominal time, whole hour, ISO 8601 ending in Z. */
  readonly timeUtc: string;
  /** The first level is the surface level unless `startsAloft` is true. */
  readonly levels: readonly PlainLevel[];
  readonly startsAloft?: boolean;
}
