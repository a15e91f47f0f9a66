/** POST /api/grids: a GRIB2 file in, message by message; what was stored out. */
import type { Context } from 'hono';
import type * as z from 'zod/mini';
import type { SupplySettings } from '../env.ts';
import { InvalidRequestError } from '../errors.ts';
import { postGrids as call } from '../schema/calls-uploads.ts';
import type { fetchGridSchema } from '../schema/uploads.ts';
import { bodyChunks } from '../sources/body.ts';
import { DEFAULT_OPEN_MODEL_SETTINGS, hourItems, openModelFile } from '../sources/open-model-file.ts';
import { hourOfUrl } from '../sources/open-models.ts';
import type { Dependencies, GridManifest } from '../sources/ports.ts';
import type { GridWriterDeps } from '../store/grid-writer.ts';
import { type IngestedGrid, ingestGrid, ingestItems } from '../store/ingest-grid.ts';
import type { AppEnv } from './app-env.ts';
import { requestBody, writingOperator } from './read-call.ts';

const MOST_JSON_BYTES = 4096;
const LONGEST_SHOWN = 120;

export async function postGrids(context: Context<AppEnv>): Promise<Response> {
  const { settings, deps } = context.var;
  const operator = writingOperator(context);
  const writing = { ...deps, operator, area: settings.operatingArea };
  const isJson = context.req.header('content-type')?.startsWith('application/json') === true;
  const ingested = isJson
    ? await fetchedGrid(
        await requestBody(context, { ...call, mostBytes: MOST_JSON_BYTES }),
        writing,
        settings.supply,
      )
    : await ingestGrid(bodyChunks(context.req.raw, call.mostBytes), writing, deps.nowMs);
  const { hours, ...counts } = ingested;
  return context.json(
    { ...counts, hours: hours.map((hour) => ({ ...describeHour(hour.manifest), replaced: hour.replaced })) },
    hours.length > 0 ? 201 : 422,
  );
}

/** A file of an open bucket that this instance is set to fetch from; of the file only what is wanted is fetched. */
async function fetchedGrid(
  { url }: z.infer<typeof fetchGridSchema>,
  writing: GridWriterDeps & Pick<Dependencies, 'http' | 'nowMs'>,
  { models, baseUrl }: SupplySettings,
): Promise<IngestedGrid> {
  const hour = hourOfUrl(url, baseUrl);
  if (hour === undefined || !models.includes(hour.model.id)) {
    const known = models.length === 0 ? 'nothing: no bucket is allowed on this instance' : models.join(', ');
    throw new InvalidRequestError({
      field: 'url',
      found: JSON.stringify(url.slice(0, LONGEST_SHOWN)),
      expected: `the address of an hour of ${known}`,
    });
  }
  const file = await openModelFile(writing.http, { ...hour, baseUrl }, DEFAULT_OPEN_MODEL_SETTINGS);
  const items = hourItems(writing.http, file, DEFAULT_OPEN_MODEL_SETTINGS);
  return ingestItems(items, writing, { nowMs: writing.nowMs });
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
