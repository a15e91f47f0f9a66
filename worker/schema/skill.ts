/** GET /api/skill: forecasts against pilots' reports, and cloud tops of a day, forecast against reported. */
import * as z from 'zod/mini';
import { boxSchema } from './places.ts';

const instantSchema = z.iso.datetime({ offset: true });

/** Longest time that is counted in one answer, days. */
export const MOST_SKILL_DAYS = 120;

const PARTS = ['tops', 'skill'] as const;

export const skillQuerySchema = z.object({
  /** Reports from this instant on; by default, and at most, MOST_SKILL_DAYS before `beforeUtc`. */
  fromUtc: z.optional(instantSchema),
  /** Reports before this instant; now by default. */
  beforeUtc: z.optional(instantSchema),
  bbox: z.optional(boxSchema),
  /** The one part that is wanted; both by default. */
  parts: z.optional(z.enum(PARTS)),
});

/** Of `reports` reports, with the interval that 95 of 100 such samples would hold the truth in; ratios. */
const shareSchema = z.object({
  value: z.number(),
  low: z.number(),
  high: z.number(),
  reports: z.number(),
});

/** null is undefined for want of ground: never 0, never 1. */
const rowSchema = z.object({
  kind: z.enum(['model', 'ascent', 'brief']),
  name: z.string(),
  /** From the start of the run or the launch to the report; of a brief from its newest source. null where nothing spoke. */
  lead: z.nullable(z.string()),
  counts: z.object({
    /** Reports of ice, where it was forecast and where it was not. */
    hits: z.number(),
    misses: z.number(),
    /** Reports of no ice in so many words. */
    falseAlarmsOnNulls: z.number(),
    correctNulls: z.number(),
    /** Reports of either where the forecast's air was not known: in no share. */
    unknown: z.number(),
    /** Reports that say nothing of ice that can be scored: in no share. */
    unscored: z.number(),
  }),
  podYes: z.nullable(shareSchema),
  podNo: z.nullable(shareSchema),
  trueSkill: z.nullable(z.number()),
  /** Under the curve of all thresholds of whole percent. */
  rocArea: z.nullable(z.number()),
  /** Mean over these reports of the share of the air up to 20,000 ft where ice was forecast, %. */
  volumePct: z.nullable(z.number()),
  /** Percent of the reports of ice found for each percent of that air. */
  volumeEfficiency: z.nullable(z.number()),
  caution: z.nullable(z.string()),
});
export type SkillRow = z.infer<typeof rowSchema>;

const topSchema = z.object({
  operator: z.string(),
  place: z.string(),
  latDeg: z.number(),
  lonDeg: z.number(),
  timeUtc: z.string(),
  reportedTopFt: z.number(),
  /** What the brief of all that existed before the report had: a top, no cloud, or nothing known. */
  forecast: z.enum(['top', 'no-cloud', 'unknown']),
  forecastTopFt: z.nullable(z.number()),
  /** Forecast less reported. */
  differenceFt: z.nullable(z.number()),
  leadHours: z.nullable(z.number()),
});
export type TopAnswer = z.infer<typeof topSchema>;

/** `tops` and `topsArePartial` are the part `tops`; `methods`, `reports`, `sources` and `cautions` are `skill`. */
export const skillAnswerSchema = z.object({
  /** What was asked for. The members of a part that is not among them are empty, and say nothing. */
  parts: z.array(z.enum(PARTS)),
  /** Versions of the method that made the forecasts. */
  methods: z.array(z.string()),
  /** Probability from which ice counts as forecast. */
  iceForecastFrom: z.number(),
  /** Reports of this time are counted; tops are of its last day. */
  fromUtc: z.string(),
  beforeUtc: z.string(),
  /** No more days than this are counted at once. */
  mostDays: z.number(),
  bbox: z.nullable(z.tuple([z.number(), z.number(), z.number(), z.number()])),
  reports: z.object({
    total: z.number(),
    ice: z.number(),
    noIce: z.number(),
    /** Kept and in no score, by the reason. */
    unscored: z.array(z.object({ why: z.string(), count: z.number() })),
    /** Came in and not compared yet, wherever they are: in no other count. */
    waiting: z.number(),
  }),
  sources: z.array(rowSchema),
  cautions: z.array(z.string()),
  tops: z.array(topSchema),
  /** There are more tops than are listed. */
  topsArePartial: z.boolean(),
});
export type SkillAnswer = z.infer<typeof skillAnswerSchema>;
