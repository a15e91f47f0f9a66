/** POST /api/grids: a GRIB2 file in, message by message; what was stored out. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { readGrib2 } from '../formats/grib2/read-grib2.ts';
import { bodyChunks } from '../sources/body.ts';
import { wantedField } from '../sources/grid-quantities.ts';
import type { GridManifest } from '../sources/ports.ts';
import { createGridWriter } from '../store/grid-writer.ts';
import { writingOperator } from './access.ts';
import type { AppEnv } from './app-env.ts';

/** A body larger than this never reaches a Worker anyway. */
const MOST_BYTES = 500 * 1024 * 1024;
const MOST_REJECTIONS_TOLD = 1000;

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
  const writer = createGridWriter({ ...deps, operator, area: settings.operatingArea });
  const rejected: { offsetBytes: number; reason: string }[] = [];
  let kept = 0;
  let skipped = 0;
  let rejectedCount = 0;
  const chunks = bodyChunks(context.req.raw, MOST_BYTES);
  for await (const item of readGrib2(chunks, { want: (header) => wantedField(header) !== undefined })) {
    if (item.kind === 'rejected') {
      rejectedCount += 1;
      if (rejected.length < MOST_REJECTIONS_TOLD) {
        rejected.push({ offsetBytes: item.messageOffsetBytes, reason: item.error.message });
      }
    } else if (item.kind === 'field' && writer.add(item.field)) kept += 1;
    else skipped += 1;
  }
  const published = await writer.publish(rejected, deps.nowMs());
  const hours = published.map(({ manifest, replaced }) => ({ ...describeHour(manifest), replaced }));
  return context.json(
    { keptFields: kept, skippedFields: skipped, rejectedCount, rejected, hours },
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
    objects: manifest.tileKeys.length,
  };
}
