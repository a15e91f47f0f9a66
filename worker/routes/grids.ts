/** POST /api/grids: a GRIB2 file in, message by message; what was stored out. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { bodyChunks } from '../sources/body.ts';
import type { GridManifest } from '../sources/ports.ts';
import { ingestGrid } from '../store/ingest-grid.ts';
import { writingOperator } from './access.ts';
import type { AppEnv } from './app-env.ts';

/** A body larger than this never reaches a Worker anyway. */
const MOST_BYTES = 500 * 1024 * 1024;

export async function postGrids(context: Context<AppEnv>): Promise<Response> {
  const { settings, deps } = context.var;
  const operator = await writingOperator(context.req.raw, settings);
  const isJson = context.req.header('content-type')?.startsWith('application/json') === true;
  if (isJson) {
    throw new InvalidRequestError({
      field: 'url',
      found: 'a request to fetch from a bucket',
      expected: 'the bytes of a GRIB2 file: no bucket is allowed on this instance',
    });
  }
  const chunks = bodyChunks(context.req.raw, MOST_BYTES);
  const writing = { ...deps, operator, area: settings.operatingArea };
  const { hours, ...counts } = await ingestGrid(chunks, writing, deps.nowMs());
  return context.json(
    { ...counts, hours: hours.map((hour) => ({ ...describeHour(hour.manifest), replaced: hour.replaced })) },
    hours.length > 0 ? 201 : 422,
  );
}

function describeHour(manifest: GridManifest) {
  const levels = new Map<string, number>();
  for (const slice of manifest.slices) levels.set(slice.quantity, (levels.get(slice.quantity) ?? 0) + 1);
  return {
    model: manifest.model,
    attribution: manifest.attribution,
    runUtc: new Date(manifest.runMs).toISOString(),
    validUtc: new Date(manifest.validMs).toISOString(),
    crop: manifest.crop,
    condensateBasis: manifest.condensateBasis,
    humidityBasis: manifest.humidityBasis,
    levelsByQuantity: Object.fromEntries(levels),
    objects: manifest.shards.length,
  };
}
