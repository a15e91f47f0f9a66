/**
 * One ascent as its file gives it: typed values, what was refused, and nothing made up.
 *
 * Levels keep the order of the file's pressures, highest pressure first; duplicates are merged. NaN stands for a
 * quantity that the file marks missing; it is never filled here.
 */

export interface SoundingLevels {
  readonly levelCount: number;
  /** Pa, strictly decreasing. */
  readonly pressurePa: Float64Array;
  readonly geopotentialHeightM: Float64Array;
  readonly temperatureK: Float64Array;
  /** Over liquid water at all temperatures. */
  readonly dewPointK: Float64Array;
  readonly windDirectionDeg: Float64Array;
  readonly windSpeedMps: Float64Array;
}

/**
 * A line or group that was not used, and why. `line` counts from 1 in the text that was read; of a BUFR ascent it is the
 * level's place in its message, of a BUFR file the message's place in the file.
 */
export interface Rejection {
  readonly line: number;
  readonly reason: string;
}

/** One part of a TEMP ascent as it came. */
export interface ReportText {
  readonly part: 'A' | 'B' | 'C' | 'D';
  /** 0 for a first report, from 1 for its corrections. */
  readonly correction: number;
  /** The part's name and groups, one blank between them. */
  readonly text: string;
}

export interface Sounding {
  readonly format: 'igra-v2' | 'fm-35-temp' | 'fm-94-bufr';
  /** Identifier as the file gives it (IGRA id, five-digit WMO number, WIGOS identifier or call sign). */
  readonly stationId: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Height of the station or the surface level above mean sea level, m; NaN when the file does not say. */
  readonly elevationM: number;
  /** Nominal time, of a BUFR ascent the release; epoch ms UTC, NaN when the file does not say (hour 99). */
  readonly timeMs: number;
  /** Time of release, epoch ms UTC; NaN when the file does not say. */
  readonly releaseMs: number;
  /** The parts that a TEMP ascent was read from, so that a part that comes later can be joined to them; else empty. */
  readonly reports: readonly ReportText[];
  readonly levels: SoundingLevels;
  readonly rejected: readonly Rejection[];
}

/** What a text held: the ascents read, and the lines that belong to none of them. */
export interface SoundingFile {
  readonly soundings: readonly Sounding[];
  readonly rejected: readonly Rejection[];
}
