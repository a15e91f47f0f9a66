/** The ports in memory: small, exact, for tests and benchmarks that need no runtime. */
import type { ReportText, Sounding } from '../../worker/formats/sounding.ts';
import type {
  Dependencies,
  GridHour,
  GridRepository,
  ObjectStore,
  Place,
  SoundingRepository,
  SpotHeight,
  StoredSounding,
} from '../../worker/sources/ports.ts';

export interface MemoryStores extends Dependencies {
  /** Objects by key, open to a test that breaks something on purpose. */
  readonly objectMap: Map<string, Uint8Array>;
  readonly counts: { gets: number; bytes: number };
}

export interface MemoryOptions {
  readonly places?: readonly Place[];
  readonly spotHeights?: readonly SpotHeight[];
  readonly nowMs?: number;
}

export function createMemoryStores(options: MemoryOptions = {}): MemoryStores {
  const objectMap = new Map<string, Uint8Array>();
  const counts = { gets: 0, bytes: 0 };
  return {
    objectMap,
    counts,
    soundings: memorySoundings(),
    grids: memoryGrids(),
    objects: memoryObjects(objectMap, counts),
    places: {
      byIdent: async (_operators, ident) => options.places?.find((place) => place.ident === ident),
      search: async () => options.places ?? [],
      putFixes: async () => undefined,
      putSpotHeights: async () => undefined,
      spotHeights: async () => options.spotHeights ?? [],
    },
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

function memoryGrids(): GridRepository {
  const rows = new Map<string, GridHour>();
  const keyOf = (hour: GridHour) => `${hour.operator} ${hour.model} ${hour.runMs} ${hour.validMs}`;
  return {
    publish: async (hour) => {
      const before = rows.get(keyOf(hour));
      rows.set(keyOf(hour), hour);
      return before?.manifestKey;
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
    },
    delete: async (keys) => {
      for (const key of keys) objects.delete(key);
    },
  };
}
