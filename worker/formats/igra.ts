/** IGRA version 2 station files: a record at a time in, an ascent out whenever the next one begins. */
import { type IgraHeader, readIgraHeader } from './igra/header-record.ts';
import { readIgraLevel } from './igra/level-record.ts';
import type { Rejection, Sounding, SoundingFile } from './sounding.ts';
import { indexesOutOfOrder, type LevelRecord, mergeLevels, stretchesBetween } from './sounding-levels.ts';

export interface IgraReader {
  /** Takes the next line of the file, its end removed or not; gives the ascent that this line has ended. */
  line(text: string): Sounding | undefined;
  /** To be called once after the last line; gives the ascent that was open. */
  end(): Sounding | undefined;
  /** What belongs to no ascent: a refused header with the count of its records, records before any header. */
  readonly rejected: Rejection[];
}

/** First character of a record by height, which has wind alone. */
const WIND_BY_HEIGHT = '3';

/** A header and the records read under it so far. */
interface OpenAscent {
  readonly header: IgraHeader;
  readonly records: {
    readonly record: LevelRecord;
    readonly isSurface: boolean;
    readonly hasLostAir: boolean;
  }[];
  readonly rejected: Rejection[];
  /** Numbers of records, as in `records`, before which one was refused that may have had temperature or humidity. */
  readonly lostBefore: Set<number>;
  lineCount: number;
  /** Line of the first record beyond the announced number. */
  firstTooMany: number | undefined;
}

/** Records that no ascent takes: those under a refused header, or before the first. */
interface Orphans {
  readonly line: number;
  readonly reason: string;
  lineCount: number;
}

/**
 * A push parser: holds one ascent at a time, so that a station's whole history can stream through. It never throws:
 * what is wrong is listed in the `rejected` of its ascent or of the reader, and the other records are read. Lines count
 * from 1. Rules: a record beyond the announced number, below the surface level's pressure, out of order in pressure,
 * or of level type 3 (wind by height) is not used; records of one pressure are merged. Where a record was refused that may
 * have had temperature or humidity, a level without values stands between its neighbors. Hour 99 gives a time of NaN.
 * The elevation is the height on the surface record, NaN when there is none.
 */
export function createIgraReader(): IgraReader {
  const rejected: Rejection[] = [];
  let lineNumber = 0;
  let open: OpenAscent | undefined;
  let orphans: Orphans | undefined;

  const close = (): Sounding | undefined => {
    const finished = open === undefined ? undefined : soundingOf(open);
    if (orphans !== undefined) rejected.push(orphanRejection(orphans));
    open = undefined;
    orphans = undefined;
    return finished;
  };
  const begin = (text: string): void => {
    const result = readIgraHeader(text, lineNumber);
    if (result.kind === 'refused') {
      orphans = { line: lineNumber, reason: result.reason, lineCount: 0 };
    } else {
      open = {
        header: result.header,
        records: [],
        rejected: [],
        lostBefore: new Set(),
        lineCount: 0,
        firstTooMany: undefined,
      };
    }
  };
  return {
    rejected,
    end: close,
    line(text) {
      lineNumber += 1;
      const content = text.replace(/^\uFEFF/, '').replace(/[\r\n]+$/, '');
      if (content.trim() === '') return undefined;
      if (content.startsWith('#')) {
        const finished = close();
        begin(content);
        return finished;
      }
      if (open !== undefined) addRecord(open, content, lineNumber);
      else {
        orphans ??= {
          line: lineNumber,
          reason: 'header: found none before this line, expected one',
          lineCount: 0,
        };
        orphans.lineCount += 1;
      }
      return undefined;
    },
  };
}

/** Reads a whole IGRA version 2 text; the rules are createIgraReader's. Never throws. */
export function readIgra(text: string): SoundingFile {
  const reader = createIgraReader();
  const soundings: Sounding[] = [];
  for (const line of text.split('\n')) {
    const finished = reader.line(line);
    if (finished !== undefined) soundings.push(finished);
  }
  const last = reader.end();
  if (last !== undefined) soundings.push(last);
  return { soundings, rejected: reader.rejected };
}

function addRecord(open: OpenAscent, text: string, line: number): void {
  open.lineCount += 1;
  if (open.lineCount > open.header.levelCount) {
    open.firstTooMany ??= line;
    return;
  }
  const result = readIgraLevel(text, line);
  if (result.kind === 'refused') {
    open.rejected.push({ line, reason: result.reason });
    if (!text.startsWith(WIND_BY_HEIGHT)) open.lostBefore.add(open.records.length);
    return;
  }
  open.rejected.push(...result.rejected);
  const { record, isSurface, hasLostAir } = result;
  open.records.push({ record, isSurface, hasLostAir });
}

function orphanRejection(orphans: Orphans): Rejection {
  return { line: orphans.line, reason: `${orphans.reason} (${orphans.lineCount} data records not used)` };
}

function soundingOf(open: OpenAscent): Sounding {
  const { header, records, rejected, lostBefore, lineCount } = open;
  if (lineCount < header.levelCount) {
    rejected.push({
      line: header.line,
      reason: `NUMLEV: found ${lineCount} data records, expected ${header.levelCount}`,
    });
  }
  if (open.firstTooMany !== undefined) {
    rejected.push({
      line: open.firstTooMany,
      reason: `NUMLEV: found ${lineCount} data records, the first too many of them this, expected ${header.levelCount}`,
    });
  }
  const disordered = indexesOfDisorder(records, rejected);
  const ordered = records.filter((_, index) => !disordered.has(index));
  const lost = stretchesBetween(
    records.map(({ record, hasLostAir }, index) =>
      disordered.has(index) || hasLostAir ? Number.NaN : record.pressurePa,
    ),
    lostBefore,
  );
  const surface = ordered.find((entry) => entry.isSurface)?.record;
  const used = ordered
    .map((entry) => entry.record)
    .filter((record) => {
      const isBelow = surface !== undefined && record.pressurePa > surface.pressurePa;
      if (isBelow) rejected.push(belowSurface(record, surface));
      return !isBelow;
    });
  const merged = mergeLevels(used, lost);
  return {
    format: 'igra-v2',
    stationId: header.stationId,
    latDeg: header.latDeg,
    lonDeg: header.lonDeg,
    elevationM: surface?.geopotentialHeightM ?? Number.NaN,
    timeMs: header.timeMs,
    releaseMs: header.releaseMs,
    reports: [],
    levels: merged.levels,
    rejected: [...rejected, ...merged.rejected].sort((a, b) => a.line - b.line),
  };
}

function indexesOfDisorder(records: OpenAscent['records'], rejected: Rejection[]): ReadonlySet<number> {
  const disordered = new Set(indexesOutOfOrder(records.map(({ record }) => record.pressurePa)));
  for (const index of disordered) {
    const { line, pressurePa } = records[index]!.record;
    rejected.push({
      line,
      reason: `pressure: found ${pressurePa / 100} hPa out of order, expected pressures to fall from record to record`,
    });
  }
  return disordered;
}

function belowSurface(record: LevelRecord, surface: LevelRecord): Rejection {
  return {
    line: record.line,
    reason: `pressure: found ${record.pressurePa / 100} hPa below the surface, expected at most ${surface.pressurePa / 100} hPa as line ${surface.line} has it`,
  };
}
