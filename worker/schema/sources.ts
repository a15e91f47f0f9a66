/** GET /api/sources: what is held, and what became of what was asked for. GET /api/health: whether the service runs. */
import * as z from 'zod/mini';

export const sourcesAnswerSchema = z.object({
  /** Newest first. */
  soundings: z.array(
    z.object({
      operator: z.string(),
      station: z.string(),
      format: z.string(),
      latDeg: z.number(),
      lonDeg: z.number(),
      validUtc: z.string(),
      levels: z.number(),
      ingestedUtc: z.string(),
      /** Made up for the demo. */
      invented: z.boolean(),
    }),
  ),
  grids: z.array(
    z.object({
      operator: z.string(),
      model: z.string(),
      runUtc: z.string(),
      validUtc: z.string(),
      ingestedUtc: z.string(),
    }),
  ),
  reports: z.array(z.object({ kind: z.string(), count: z.number(), newestUtc: z.string() })),
  /** Addresses that the schedule asks. */
  bulletins: z.array(
    z.object({
      address: z.string(),
      askedUtc: z.nullable(z.string()),
      /** When it last gave a report. */
      gaveUtc: z.nullable(z.string()),
      stored: z.number(),
      refused: z.number(),
      refusal: z.string(),
      fault: z.string(),
      faultUtc: z.nullable(z.string()),
    }),
  ),
  /** Forecast hours that were asked for; what failed comes first. */
  supply: z.object({
    models: z.array(z.string()),
    hours: z.array(
      z.object({
        model: z.string(),
        runUtc: z.string(),
        validUtc: z.string(),
        forecastHour: z.number(),
        state: z.enum(['queued', 'unsent', 'working', 'stored', 'late', 'failed', 'dead']),
        detail: z.string(),
        failures: z.number(),
        updatedUtc: z.string(),
      }),
    ),
  }),
});

export const healthSchema = z.object({
  /** Of the method. */
  version: z.string(),
  /** A bundled sample was read and is what it should be. */
  sampleDecodes: z.boolean(),
  newestSoundingUtc: z.nullable(z.string()),
  newestGridRunUtc: z.nullable(z.string()),
  /** When the schedule came last; null where it never did. */
  scheduleUtc: z.nullable(z.string()),
  late: z.array(z.object({ subject: z.string(), sentence: z.string(), sinceUtc: z.nullable(z.string()) })),
  alarms: z.array(
    z.object({
      code: z.string(),
      subject: z.string(),
      sentence: z.string(),
      sinceUtc: z.nullable(z.string()),
      lastSeenUtc: z.nullable(z.string()),
    }),
  ),
  nowUtc: z.string(),
});
