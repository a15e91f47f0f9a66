/** The ports in memory: small, exact, for tests and benchmarks that need no runtime. */

import { isDeepStrictEqual } from 'node:util';
import type { ReportText, Sounding } from '../../worker/formats/sounding.ts';
import type { BulletinRepository, BulletinRow } from '../../worker/sources/bulletins.ts';
import {
  type HoldoverRepository,
  holdoverTableId,
  type StoredHoldoverTable,
} from '../../worker/sources/holdover-tables.ts';
import type {
  Dependencies,
  GridHour,
  GridRepository,
  ObjectStore,
  Place,
  SoundingRepository,
  SpotHeight,
  StoredSounding,
  TerrainSource,
} from '../../worker/sources/ports.ts';
import {
  bearsOnLegs,
  isNoteAlone,
  REPORT_KINDS,
  type Report,
  type ReportQuery,
  type ReportRepository,
  type StoredReport,
} from '../../worker/sources/reports.ts';
import type { SharedBrief, SharedBytes } from '../../worker/sources/shared-briefs.ts';
import {
  keyOfHour,
  type SupplyHour,
  type SupplyRepository,
  type SupplyRow,
} from '../../worker/sources/supply.ts';
import { memoryAlarms, memoryFacts } from './memory-alarms.ts';
import { isPilots, type KeptReport, memoryScores } from './memory-scores.ts';
import { rehearsalHttp } from './rehearsal-http.ts';

export interface MemoryStores extends Dependencies {
  /** Objects by key, open to a test that breaks something on purpose. */
  readonly objectMap: Map<string, Uint8Array>;
  readonly counts: { gets: number; bytes: number };
}

export interface MemoryOptions {
  readonly places?: readonly Place[];
  readonly spotHeights?: readonly SpotHeight[];
  readonly terrain?: TerrainSource;
  readonly nowMs?: number;
}

export function createMemoryStores(options: MemoryOptions = {}): MemoryStores {
  const objectMap = new Map<string, Uint8Array>();
  const counts = { gets: 0, bytes: 0 };
  const kept = new Map<string, ReportRow>();
  const scores = memoryScores(() => [...kept.values()].map(keptReport));
  return {
    objectMap,
    counts,
    soundings: memorySoundings(),
    reports: memoryReports(kept, scores.isScored),
    scores,
    bulletins: memoryBulletins(),
    alarms: memoryAlarms(),
    facts: memoryFacts(),
    holdoverTables: memoryHoldoverTables(),
    ...memoryShared(),
    boards: noBoards(),
    live: noBoards(),
    push: undefined,
    publishBoard: async () => undefined,
    publishAll: async () => undefined,
    sendFlights: async () => undefined,
    sendFollowing: async () => undefined,
    signInKeys: { keys: () => Promise.reject(new Error('no sign-ins here')) },
    grids: memoryGrids(),
    objects: memoryObjects(objectMap, counts),
    places: {
      byIdent: async (_operators, ident) => options.places?.find((place) => place.ident === ident),
      byIdents: async (_operators, idents) =>
        new Map(
          idents.flatMap((ident) => {
            const place = options.places?.find((each) => each.ident === ident);
            return place === undefined ? [] : [[ident, place] as const];
          }),
        ),
      search: async () => options.places ?? [],
      aerodromesIn: () => [],
      putFixes: async () => undefined,
      putSpotHeights: async () => undefined,
      spotHeights: async () => options.spotHeights ?? [],
    },
    supply: memorySupply(),
    terrain: options.terrain,
    // Nothing is allowed but an address where nobody listens.
    http: rehearsalHttp('http://127.0.0.1:9/'),
    nowMs: () => options.nowMs ?? 0,
  };
}

function memorySoundings(): SoundingRepository {
  const rows = new Map<string, StoredSounding>();
  const parts = new Map<string, Map<string, ReportText>>();
  const newestFirst = () => [...rows.values()].sort((a, b) => b.timeMs - a.timeMs);
  const reports: SoundingRepository['reports'] = async (operator, soundings) =>
    soundings.map((each) =>
      each.reports.length === 0
        ? []
        : [...(parts.get(`${operator} ${each.stationId} ${each.timeMs}`)?.values() ?? [])],
    );
  return {
    reports,
    keepReports: async (operator, soundings) => {
      for (const each of soundings) {
        const key = `${operator} ${each.stationId} ${each.timeMs}`;
        const kept = parts.get(key) ?? new Map<string, ReportText>();
        for (const one of each.reports) kept.set(`${one.correction} ${one.text}`, one);
        parts.set(key, kept);
      }
      return reports(operator, soundings);
    },
    put: async (operator, soundings: readonly Sounding[], nowMs) => {
      for (const each of soundings) {
        rows.set(`${operator} ${each.stationId} ${each.timeMs} ${each.format}`, {
          ...each,
          operator,
          ingestedMs: nowMs,
        });
      }
    },
    find: async (query) =>
      newestFirst().filter(
        (each) =>
          query.operators.includes(each.operator) &&
          each.timeMs >= query.fromMs &&
          each.timeMs <= query.toMs &&
          each.latDeg >= query.southDeg &&
          each.latDeg <= query.northDeg &&
          query.lonRanges.some(([west, east]) => each.lonDeg >= west && each.lonDeg <= east),
      ),
    list: async (operators, limit) =>
      newestFirst()
        .filter((each) => operators.includes(each.operator))
        .slice(0, limit)
        .map((each) => ({ ...each, levelCount: each.levels.levelCount })),
  };
}

interface ReportRow {
  readonly report: StoredReport;
  readonly receivedMs: number;
}

const keptReport = ({ report, receivedMs }: ReportRow): KeptReport => ({ ...report, receivedMs });

/** Gives what bears on legs in the time asked for, wherever it is: a leg must come to the same with more. */
function memoryReports(
  rows: Map<string, ReportRow>,
  isScored: (report: StoredReport) => boolean,
): ReportRepository {
  const stored = () => [...rows.values()].map(({ report }) => report);
  const found = ({ operators, fromMs, toMs }: ReportQuery, isWanted: (report: Report) => boolean) => ({
    reports: stored().filter(
      (each) =>
        operators.includes(each.operator) &&
        isWanted(each) &&
        each.validToMs >= fromMs &&
        each.validFromMs <= toMs,
    ),
    isPartial: false,
  });
  return {
    put: async (operator, reports, receivedMs) => {
      for (const report of reports) {
        const key = `${operator} ${report.id}`;
        const before = rows.get(key);
        const again = { ...report, operator, ingestedMs: before?.report.ingestedMs ?? receivedMs };
        const isSame = before !== undefined && isDeepStrictEqual(again, before.report);
        const cameMs = isSame ? before.report.ingestedMs : receivedMs;
        rows.set(key, { report: { ...again, ingestedMs: cameMs }, receivedMs: cameMs });
      }
    },
    find: async (query) => found(query, bearsOnLegs),
    findNotes: async (query) => found(query, isNoteAlone),
    ofAerodrome: async ({ operators, station, fromMs, toMs }) =>
      stored()
        .filter(
          ({ operator, series, issuedMs }) =>
            operators.includes(operator) &&
            (series === `taf ${station}` || series.startsWith(`metar ${station} `)) &&
            issuedMs >= fromMs &&
            issuedMs <= toMs,
        )
        .sort((a, b) => b.issuedMs - a.issuedMs || b.rank - a.rank),
    counts: async (operators) =>
      REPORT_KINDS.toSorted().flatMap((kind) => {
        const own = stored().filter((row) => row.kind === kind && operators.includes(row.operator));
        if (own.length === 0) return [];
        return [{ kind, count: own.length, newestMs: Math.max(...own.map(({ issuedMs }) => issuedMs)) }];
      }),
    forgetBefore: async (validBeforeMs, unscoredBeforeMs) => {
      const before = rows.size;
      for (const [key, row] of rows) {
        const waits = isPilots(row.report) && !isScored(row.report) && row.receivedMs >= unscoredBeforeMs;
        if (row.report.validToMs < validBeforeMs && !waits) rows.delete(key);
      }
      return before - rows.size;
    },
  };
}

function memoryBulletins(): BulletinRepository {
  const rows = new Map<string, BulletinRow>();
  const NEW = { gaveMs: undefined, stored: 0, refused: 0, refusal: '', fault: '', faultMs: undefined };
  return {
    claim: async (source, { everyMs, nowMs }) => {
      const row = rows.get(source) ?? { ...NEW, source, askedMs: Number.NEGATIVE_INFINITY };
      if (row.askedMs > nowMs - everyMs && row.askedMs <= nowMs) return false;
      rows.set(source, { ...row, askedMs: nowMs });
      return true;
    },
    note: async (source, { answer, fault, nowMs }) => {
      const row = rows.get(source);
      if (row === undefined) return;
      const gaveMs = (answer?.stored ?? 0) > 0 ? nowMs : row.gaveMs;
      rows.set(source, { ...row, ...answer, gaveMs, ...(fault !== undefined && { fault, faultMs: nowMs }) });
    },
    list: async () => [...rows.values()].sort((a, b) => (a.source < b.source ? -1 : 1)),
  };
}

function memorySupply(): SupplyRepository {
  const rows = new Map<string, SupplyRow & { readonly token: string }>();
  const told = ({ token: _, ...row }: SupplyRow & { readonly token: string }): SupplyRow => row;
  const plain = ({ modelId, runMs, forecastHour }: SupplyHour) => ({ modelId, runMs, forecastHour });
  const NEW = { detail: '', failures: 0, refusals: 0 };
  return {
    since: async (runMs) =>
      [...rows.values()]
        .filter((row) => row.runMs >= runMs)
        .sort((a, b) => b.runMs - a.runMs)
        .map(told),
    find: async (hour) => {
      const row = rows.get(keyOfHour(hour));
      return row === undefined ? undefined : told(row);
    },
    ask: async (hours, nowMs) => {
      const asked = hours
        .filter((hour) => rows.get(keyOfHour(hour))?.updatedMs === hour.lastWordMs)
        .map(plain);
      for (const hour of asked) {
        const row = rows.get(keyOfHour(hour)) ?? { ...hour, ...NEW };
        rows.set(keyOfHour(hour), { ...row, state: 'queued', token: '', updatedMs: nowMs });
      }
      return asked;
    },
    unask: async (hours, { detail, nowMs }) => {
      for (const hour of hours) {
        const row = rows.get(keyOfHour(hour));
        if (row?.state === 'queued')
          rows.set(keyOfHour(hour), { ...row, state: 'unsent', detail, updatedMs: nowMs });
      }
    },
    claim: async (hour, { leaseMs, nowMs }) => {
      const row = rows.get(keyOfHour(hour));
      const isHeld = row?.state === 'working' && row.updatedMs >= nowMs - leaseMs && row.updatedMs <= nowMs;
      if (isHeld || row?.state === 'stored') return undefined;
      const before = row ?? { ...plain(hour), ...NEW };
      const failures = before.failures + Number(row?.state === 'working');
      const claimed = { ...before, failures, updatedMs: nowMs };
      const claim = { ...claimed, state: 'working', token: crypto.randomUUID() } as const;
      rows.set(keyOfHour(hour), claim);
      return claim;
    },
    settle: async (claim, { state, detail, isRefusal = false, nowMs }) => {
      const row = rows.get(keyOfHour(claim));
      if (row?.state !== 'working' || row.token !== claim.token) return false;
      const failures = row.failures + Number(state === 'failed' || state === 'dead');
      const refusals = row.refusals + Number(isRefusal);
      rows.set(keyOfHour(claim), { ...row, state, detail, failures, refusals, token: '', updatedMs: nowMs });
      return true;
    },
    holds: async (claim) => {
      const row = rows.get(keyOfHour(claim));
      return row?.state === 'working' && row.token === claim.token;
    },
    bury: async (hour, { leaseMs, nowMs }) => {
      const row = rows.get(keyOfHour(hour));
      const isHeld = row?.state === 'working' && row.updatedMs >= nowMs - leaseMs && row.updatedMs <= nowMs;
      if (row === undefined || row.state === 'stored' || isHeld) return undefined;
      const dead = { ...row, state: 'dead', updatedMs: nowMs } as const;
      rows.set(keyOfHour(hour), dead);
      return told(dead);
    },
    forgetBefore: async (runMs) => {
      for (const [key, row] of rows) if (row.runMs < runMs) rows.delete(key);
    },
  };
}

function memoryGrids(): GridRepository {
  const rows = new Map<string, GridHour>();
  const prefixes = new Map<string, { state: 'writing' | 'published' | 'retired'; changedMs: number }>();
  const keyOf = (hour: GridHour) => `${hour.operator} ${hour.model} ${hour.runMs} ${hour.validMs}`;
  const prefixOf = (hour: GridHour) => hour.manifestKey.slice(0, -'/manifest.json'.length);
  return {
    begin: async ({ prefix, nowMs }) => {
      prefixes.set(prefix, { state: 'writing', changedMs: nowMs });
    },
    publish: async (hour) => {
      const before = rows.get(keyOf(hour));
      if (before !== undefined)
        prefixes.set(prefixOf(before), { state: 'retired', changedMs: hour.ingestedMs });
      prefixes.set(prefixOf(hour), { state: 'published', changedMs: hour.ingestedMs });
      rows.set(keyOf(hour), hour);
      return before?.manifestKey;
    },
    retire: async (operator, { validBeforeMs, keepRuns, nowMs }) => {
      const own = [...rows.values()].filter((hour) => hour.operator === operator);
      const outlived = own.filter((hour) => {
        const newer = own.filter(
          (other) => other.model === hour.model && other.validMs === hour.validMs && other.runMs > hour.runMs,
        );
        return hour.validMs < validBeforeMs || newer.length >= keepRuns;
      });
      for (const hour of outlived) {
        rows.delete(keyOf(hour));
        prefixes.set(prefixOf(hour), { state: 'retired', changedMs: nowMs });
      }
      return outlived.length;
    },
    leftovers: async ({ writingBeforeMs, retiredBeforeMs }, limit) =>
      [...prefixes]
        .filter(
          ([, { state, changedMs }]) =>
            (state === 'writing' && changedMs < writingBeforeMs) ||
            (state === 'retired' && changedMs < retiredBeforeMs),
        )
        .map(([prefix]) => prefix)
        .slice(0, limit),
    forgetPrefix: async (prefix) => {
      prefixes.delete(prefix);
    },
    find: async (operators, fromMs, toMs) =>
      [...rows.values()].filter(
        (hour) => operators.includes(hour.operator) && hour.validMs >= fromMs && hour.validMs <= toMs,
      ),
    list: async (operators, limit) =>
      [...rows.values()].filter((hour) => operators.includes(hour.operator)).slice(0, limit),
  };
}

function memoryObjects(objects: Map<string, Uint8Array>, counts: MemoryStores['counts']): ObjectStore {
  const writtenMs = new WeakMap<Uint8Array, number>();
  return {
    get: async (key) => {
      const bytes = objects.get(key);
      counts.gets += 1;
      counts.bytes += bytes?.byteLength ?? 0;
      return bytes === undefined ? undefined : (new Uint8Array(bytes).buffer as ArrayBuffer);
    },
    getRange: async (key, { offsetBytes, lengthBytes }) => {
      const bytes = objects.get(key);
      counts.gets += 1;
      if (bytes === undefined || bytes.byteLength < offsetBytes + lengthBytes) return undefined;
      counts.bytes += lengthBytes;
      return bytes.slice(offsetBytes, offsetBytes + lengthBytes).buffer as ArrayBuffer;
    },
    put: async (key, bytes) => {
      const copy = typeof bytes === 'string' ? new TextEncoder().encode(bytes) : new Uint8Array(bytes);
      objects.set(key, copy);
      writtenMs.set(copy, Date.now());
    },
    delete: async (keys) => {
      for (const key of keys) objects.delete(key);
    },
    list: async (prefix) => [...objects.keys()].filter((key) => key.startsWith(prefix)).slice(0, 1000),
    listBehind: async (prefix, afterKey, limit) =>
      [...objects.keys()]
        .filter((key) => key.startsWith(prefix) && key > afterKey)
        .sort()
        .slice(0, limit)
        .map((key) => ({ key, writtenMs: writtenMs.get(objects.get(key)!) ?? 0 })),
  };
}

/** Boards are for tests of boards: whatever is asked of these fails. */
function noBoards<Port extends object>(): Port {
  return new Proxy({} as Port, {
    get: (_target, name) => () => Promise.reject(new Error(`no boards here: ${String(name)}`)),
  });
}

/** Shared briefs, counts of writes, and a page of two tags. */
function memoryShared(): Pick<Dependencies, 'sharedBriefs' | 'writeCounts' | 'page'> {
  const briefs = new Map<string, { row: SharedBrief; made: SharedBytes | undefined }>();
  const counts = new Map<string, number>();
  return {
    sharedBriefs: {
      put: async (row, made) => void briefs.set(row.id, { row, made }),
      find: async (id) => briefs.get(id)?.row,
      bytesOf: async (id) => briefs.get(id)?.made?.brief.slice().buffer,
      pictureOf: async (id) => briefs.get(id)?.made?.picture.slice().buffer,
      inputsOf: async (id) => briefs.get(id)?.made?.inputs?.slice().buffer as ArrayBuffer | undefined,
      revoke: async (id, revokedMs) => {
        const kept = briefs.get(id);
        if (kept !== undefined) briefs.set(id, { row: { ...kept.row, revokedMs }, made: undefined });
      },
      forgetExpired: async () => 0,
      sweepOrphans: async () => 0,
    },
    writeCounts: {
      count: async (sender, windowMs) => {
        const key = `${sender} ${windowMs}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
        return counts.get(key)!;
      },
      forgetBefore: async () => undefined,
    },
    page: {
      board: async () => '<html><head><title>Board</title></head><body></body></html>',
      html: async () =>
        '<html><head><title>Rimeway</title><meta name="shared-view" content="assets/one-x assets/two"></head><body></body></html>',
    },
  };
}

function memoryHoldoverTables(): HoldoverRepository {
  const rows = new Map<string, StoredHoldoverTable>();
  return {
    put: async (operator, table, ingestedMs) => {
      const id = holdoverTableId(table);
      const before = rows.get(`${operator} ${id}`)?.table;
      rows.set(`${operator} ${id}`, { operator, id, table, ingestedMs });
      return before;
    },
    list: async (operators) =>
      [...rows.values()]
        .filter(({ operator }) => operators.includes(operator))
        .sort((a, b) => (a.id < b.id ? -1 : 1)),
  };
}
