/** What is stored beside an hour's shards, checked when it is read back. */
import * as z from 'zod/mini';
import { GRID_QUANTITIES, type GridManifest, type ObjectReader } from '../sources/ports.ts';
import { CHUNK_SIDE, SHARD_SIDE } from './grid-chunks.ts';

const size = { nx: z.number(), ny: z.number(), earthRadiusM: z.number() };
const firstPoint = { firstLatDeg: z.number(), firstLonDeg: z.number() };
const mapped = { earthFlattening: z.optional(z.number()), dxM: z.number(), dyM: z.number() };
const winds = { windsAlongGrid: z.boolean() };
const steps = { latStepDeg: z.number(), lonStepDeg: z.number() };

/** One entry a grid definition template: see grid-templates.ts. */
const definitionSchema = z.discriminatedUnion('template', [
  z.looseObject({ template: z.literal(0), ...size, ...firstPoint, ...steps }),
  z.looseObject({
    ...{ template: z.literal(1), ...size, ...firstPoint, ...steps, ...winds },
    southPoleLatDeg: z.number(),
    southPoleLonDeg: z.number(),
  }),
  z.looseObject({ template: z.literal(10), ...size, ...firstPoint, ...mapped, trueLatDeg: z.number() }),
  z.looseObject({
    ...{ template: z.literal(12), ...size, ...mapped, ...winds },
    referenceLatDeg: z.number(),
    referenceLonDeg: z.number(),
    scaleFactor: z.number(),
    firstXM: z.number(),
    firstYM: z.number(),
  }),
  z.looseObject({
    ...{ template: z.literal(20), ...size, ...firstPoint, ...mapped, ...winds },
    pole: z.enum(['north', 'south']),
    orientationLonDeg: z.number(),
    trueLatDeg: z.number(),
  }),
  z.looseObject({
    ...{ template: z.literal(30), ...size, ...firstPoint, ...mapped, ...winds },
    orientationLonDeg: z.number(),
    standardLat1Deg: z.number(),
    standardLat2Deg: z.number(),
  }),
  z.looseObject({
    ...{ template: z.literal(40), ...size },
    firstLonDeg: z.number(),
    lonStepDeg: z.number(),
    parallels: z.number(),
    firstParallel: z.number(),
    parallelStep: z.union([z.literal(1), z.literal(-1)]),
  }),
]);

const manifestSchema = z.object({
  version: z.literal(3),
  model: z.string(),
  attribution: z.string(),
  runMs: z.number(),
  validMs: z.number(),
  definition: definitionSchema,
  crop: z.object({ i0: z.number(), j0: z.number(), nx: z.number(), ny: z.number() }),
  wrapsEast: z.boolean(),
  condensateBasis: z.enum(['none', 'liquid', 'total']),
  humidityBasis: z.string(),
  cloudBasis: z.string(),
  slices: z.array(
    z.object({
      quantity: z.enum(GRID_QUANTITIES),
      levelPa: z.nullable(z.number()),
      scaleFactor: z.number().check(z.positive()),
      addOffset: z.number(),
      greatestError: z.number(),
    }),
  ),
  chunkSide: z.literal(CHUNK_SIDE),
  shardSide: z.literal(SHARD_SIDE),
  shards: z.array(
    z.object({ key: z.string(), lengthBytes: z.array(z.number()), crc32: z.array(z.number()) }),
  ),
  rejected: z.array(z.object({ offsetBytes: z.number(), reason: z.string() })),
});

/** @returns the manifest, or undefined when it is not there or does not read back: its hour then counts as not decoded. */
export async function readManifest(objects: ObjectReader, key: string): Promise<GridManifest | undefined> {
  const bytes = await objects.get(key);
  if (bytes === undefined) return undefined;
  try {
    const parsed = manifestSchema.safeParse(JSON.parse(new TextDecoder().decode(bytes)));
    return parsed.success ? (parsed.data as GridManifest) : undefined;
  } catch {
    return undefined;
  }
}
