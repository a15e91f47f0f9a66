/** WMO FM 35 TEMP and FM 36 TEMP SHIP: bulletin text to ascents, the parts of one ascent put together again. */
import type { Rejection, Sounding, SoundingFile } from '../sounding.ts';
import { type HeadedReport, soundingOf } from './ascent.ts';
import { type Position, readHeader } from './header.ts';
import { splitReports } from './reports.ts';

/** What a bulletin does not say itself. */
export interface TempContext {
  /** Epoch ms UTC. The code gives day and hour only: month and year are taken so that the ascent lies nearest to this. */
  readonly nearMs: number;
  /** Where a station number is; elevation m above mean sea level, NaN when not known; undefined for an unknown number. */
  readonly stations: (wmoNumber: string) => Position | undefined;
}

/**
 * Reads parts A, B, C and D of TEMP (TT) and TEMP SHIP (UU), with or without bulletin headings, in any order. Parts of
 * one station, day and hour become one ascent; a corrected part replaces the uncorrected one. The surface level's
 * height is the station's elevation; a ship's is 0 m. Levels that the code puts under the ground are left out. PILOT,
 * TEMP MOBIL and TEMP DROP are refused by name.
 *
 * Never throws: what is not used is listed with its line, in the ascent's `rejected` or, when it belongs to none, in
 * the file's: stations of unknown place, NIL, unreadable headers, text outside reports.
 *
 * @source   WMO-No. 306, Manual on Codes, volume I.1, FM 35, FM 36.
 * @checked  tests/formats/temp.test.ts, tests/data/soundings.test.ts
 */
export function readTemp(text: string, context: TempContext): SoundingFile {
  const { reports, rejected: stray } = splitReports(text);
  const rejected = [...stray];
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
    else soundings.push(soundingOf(ascent, position, context.nearMs));
  }
  return { soundings, rejected: rejected.sort((a, b) => a.line - b.line) };
}

function unknownStation(stationId: string, line: number): Rejection {
  return {
    line,
    reason: `station: found ${stationId}, whose position is not known, expected a known station; its coordinates can be given at upload`,
  };
}
