/** The part of a report that is kept as JSON, checked when it is read back. */
import * as z from 'zod/mini';
import type { Report } from '../sources/reports.ts';

const position = z.object({ latDeg: z.number(), lonDeg: z.number() });
const box = z.optional(
  z.object({ southDeg: z.number(), northDeg: z.number(), westDeg: z.number(), eastDeg: z.number() }),
);
const side = z.union([
  z.object({ kind: z.literal('parallel'), side: z.enum(['N', 'S']), latDeg: z.number() }),
  z.object({ kind: z.literal('meridian'), side: z.enum(['E', 'W']), lonDeg: z.number() }),
  z.object({
    kind: z.literal('line'),
    bearingDeg: z.number(),
    points: z.array(position).check(z.minLength(2)),
  }),
]);
const area = z.union([
  z.object({ kind: z.literal('polygon'), ring: z.array(position).check(z.minLength(4)) }),
  z.object({
    kind: z.literal('line'),
    points: z.array(position).check(z.minLength(2)),
    halfWidthM: z.number(),
  }),
  z.object({ kind: z.literal('circle'), center: position, radiusM: z.number() }),
  z.object({ kind: z.literal('sides'), sides: z.array(side), box }),
  z.object({ kind: z.literal('unknown'), box }),
]);
const level = z.union([
  z.object({ kind: z.enum(['open', 'cloud-top']) }),
  z.object({
    kind: z.enum(['pressure-altitude', 'altitude']),
    altitudeM: z.number(),
    marginM: z.number(),
  }),
  z.object({
    kind: z.literal('freezing-level'),
    lowestM: z.optional(z.number()),
    highestM: z.optional(z.number()),
  }),
]);
const ice = z.object({
  severity: z.enum(['unstated', 'moderate', 'severe', 'large-drops']),
  sentence: z.string(),
  fromMs: z.number(),
  toMs: z.number(),
  lower: level,
  upper: level,
});
const heights = z.optional(z.object({ lowerFt: z.number(), upperFt: z.number() }));
const pilotSaid = z.object({
  noIce: z.boolean(),
  lowerFt: z.optional(z.number()),
  upperFt: z.optional(z.number()),
  clouds: z.array(z.object({ base: heights, top: heights })),
  temperatureK: z.optional(z.number()),
  sentence: z.string(),
});
const bodySchema = z.object({
  areas: z.array(area).check(z.minLength(1)),
  ice: z.array(ice),
  cancels: z.optional(z.object({ series: z.string(), validToMs: z.optional(z.number()) })),
  isDoubtful: z.boolean(),
  /** Bodies written before it was kept have none. */
  said: z.optional(pilotSaid),
});

export type ReportBody = Pick<Report, 'areas' | 'ice' | 'cancels' | 'isDoubtful' | 'said'>;

export function writtenBody({ areas, ice: told, cancels, isDoubtful, said }: ReportBody): string {
  return JSON.stringify({ areas, ice: told, cancels, isDoubtful, said });
}

/** @returns undefined for a body that does not read back. */
export function readBody(text: string): ReportBody | undefined {
  try {
    const parsed = bodySchema.safeParse(JSON.parse(text));
    return parsed.success ? (parsed.data as ReportBody) : undefined;
  } catch {
    return undefined;
  }
}
