/** What the calls answer that take files: what was kept of each, and the reason of every piece that was not. */
import * as z from 'zod/mini';

/** Lines count from 1. */
export const rejectionSchema = z.object({ line: z.number(), reason: z.string() });

const nullableNumber = z.nullable(z.number());

const toldSoundingSchema = z.object({
  kind: z.literal('sounding'),
  station: z.string(),
  latDeg: nullableNumber,
  lonDeg: nullableNumber,
  timeUtc: z.nullable(z.string()),
  levels: z.array(
    z.object({
      pressureHPa: z.number(),
      /** Geopotential height above mean sea level. */
      heightM: nullableNumber,
      temperatureC: nullableNumber,
      dewPointC: nullableNumber,
      windDirectionDeg: nullableNumber,
      windSpeedKt: nullableNumber,
    }),
  ),
  rejected: z.array(rejectionSchema),
});

/** POST /api/soundings. */
export const storedSoundingsSchema = z.object({
  stored: z.number(),
  /** Ascents that read and cannot be placed. */
  refusedCount: z.number(),
  refused: z.array(z.object({ station: z.string(), reason: z.string() })),
  /** Pieces that did not read. */
  rejectedCount: z.number(),
  rejected: z.array(rejectionSchema),
  soundings: z.array(toldSoundingSchema),
});

/** POST /api/grids: the hours that were stored, and the messages of the file that were not. */
export const storedGridsSchema = z.object({
  keptFields: z.number(),
  skippedFields: z.number(),
  rejectedCount: z.number(),
  rejected: z.array(z.object({ offsetBytes: z.number(), reason: z.string() })),
  hours: z.array(
    z.object({
      model: z.string(),
      attribution: z.string(),
      runUtc: z.string(),
      validUtc: z.string(),
      crop: z.object({ i0: z.number(), j0: z.number(), nx: z.number(), ny: z.number() }),
      condensateBasis: z.string(),
      humidityBasis: z.string(),
      levelsByQuantity: z.record(z.string(), z.number()),
      objects: z.number(),
      replaced: z.boolean(),
    }),
  ),
});

/** Of POST /api/grids in the place of a file. */
export const fetchGridSchema = z.strictObject({ url: z.string().check(z.maxLength(500)) });

/** POST /api/reports. */
export const storedReportsSchema = z.object({
  stored: z.number(),
  rejectedCount: z.number(),
  rejected: z.array(z.object({ line: z.number(), reason: z.string(), text: z.string() })),
  reports: z.array(
    z.object({
      id: z.string(),
      kind: z.string(),
      issuedUtc: z.string(),
      validFromUtc: z.string(),
      validToUtc: z.string(),
      /** It says where, so that a leg elsewhere is not met by it. */
      isPlaced: z.boolean(),
      /** What of it raises a verdict where a leg meets it. */
      ice: z.array(
        z.object({ severity: z.string(), sentence: z.string(), fromUtc: z.string(), toUtc: z.string() }),
      ),
      /** What it takes back; null for nothing. */
      cancels: z.nullable(z.string()),
      text: z.string(),
    }),
  ),
});

export type StoredReports = z.infer<typeof storedReportsSchema>;

/** POST /api/places. */
export const storedPlacesSchema = z.object({
  kind: z.enum(['fixes', 'spot-heights']),
  stored: z.number(),
  rejected: z.array(rejectionSchema),
});
