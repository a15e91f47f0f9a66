/** WMO FM 35 TEMP, FM 36 TEMP SHIP and FM 38 TEMP MOBIL: bulletin text to ascents, the parts of one ascent put together again. */
import type { Rejection, ReportText, Sounding, SoundingFile } from '../sounding.ts';
import { type HeadedReport, soundingOf } from './ascent.ts';
import { type Position, readHeader } from './header.ts';
import { type Report, reportsOf, splitReports } from './reports.ts';

/** What a bulletin does not say itself. */
export interface TempContext {
  /** Epoch ms UTC. The code gives day and hour only: month and year are taken so that the ascent lies nearest to this. */
  readonly nearMs: number;
  /** No ascent was made later than this, epoch ms UTC; undefined where nothing says so. */
  readonly notAfterMs?: number;
  /** Where a station number is; elevation m above mean sea level, NaN when not known; undefined for an unknown number. */
  readonly stations: (wmoNumber: string) => Position | undefined;
}

/**
 * Reads parts A, B, C and D of TEMP (TT), TEMP SHIP (UU) and TEMP MOBIL (II), with or without bulletin headings, in any
 * order. Parts of one station, day and hour become one ascent; a corrected part (COR, or CCA to CCZ of which the last
 * counts) replaces what it corrects. The surface level's height is the station's elevation; a ship's is 0 m. Levels
 * that the code puts under the ground are left out. PILOT and TEMP DROP are refused by name.
 *
 * Never throws: what is not used is listed with its line, in the ascent's `rejected` or, when it belongs to none, in
 * the file's: stations of unknown place, NIL, unreadable headers, text outside reports.
 *
 * @source   WMO-No. 306, Manual on Codes, volume I.1, FM 35, FM 36, FM 38.
 * @checked  tests/formats/temp.test.ts, tests/data/soundings.test.ts
 */
export function readTemp(text: string, context: TempContext): SoundingFile {
  const { reports, rejected: stray } = splitReports(text);
  const read = readTempReports(reports, context);
  const rejected = [...stray, ...read.rejected].sort((a, b) => a.line - b.line);
  return { soundings: read.soundings, rejected };
}

/**
 * One ascent of all parts that are kept of it, in the order in which they came; an ascent of another format comes back as it
 * is. Never throws.
 *
 * @param kept   parts, those of `later` among them.
 * @param later  the ascent as the last text alone gives it: its place and time, and what was told of it.
 */
export function joinedSounding(kept: readonly ReportText[], later: Sounding, context: TempContext): Sounding {
  if (later.reports.length === 0) return later;
  const here = { latDeg: later.latDeg, lonDeg: later.lonDeg, elevationM: later.elevationM };
  const { soundings } = readTempReports(reportsOf(kept), {
    nearMs: later.timeMs,
    stations: (wmoNumber) => context.stations(wmoNumber) ?? here,
  });
  const whole = soundings[0];
  if (whole === undefined) return later;
  const told = new Set(later.rejected.map(({ reason }) => reason));
  const joined = whole.rejected
    .filter(({ reason }) => !told.has(reason))
    .map(({ reason }) => ({ line: 1, reason: `with the parts sent before, ${reason}` }));
  return { ...whole, reports: kept, rejected: [...later.rejected, ...joined] };
}

function readTempReports(reports: readonly Report[], context: TempContext): SoundingFile {
  const rejected: Rejection[] = [];
  const ascents = new Map<string, HeadedReport[]>();
  for (const report of reports) {
    const result = readHeader(report);
    if (result.kind === 'refused') {
      rejected.push(result.rejection);
      continue;
    }
    const { header } = result;
    const key = `${report.family} ${header.stationId} ${header.day} ${header.hour}`;
    const ascent = ascents.get(key);
    if (ascent === undefined) ascents.set(key, [{ report, header }]);
    else ascent.push({ report, header });
  }
  const soundings: Sounding[] = [];
  for (const ascent of ascents.values()) {
    const { report, header } = ascent[0]!;
    const position = header.position ?? context.stations(header.stationId);
    if (position === undefined) rejected.push(unknownStation(header.stationId, report.line));
    else soundings.push(soundingOf(ascent, position, context));
  }
  return { soundings, rejected };
}

function unknownStation(stationId: string, line: number): Rejection {
  return {
    line,
    reason: `station: found ${stationId}, whose position is not known, expected a known station, or its place beside the text: latDeg, lonDeg and elevationM at upload, --lat, --lon and --elevation on the command line`,
  };
}
