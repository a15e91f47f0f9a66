/** The words and figures that every choice of an altitude is told in. */
import * as z from 'zod/mini';

export const verdictCodes = ['no-ice-found', 'within-limits', 'outside-limits', 'unknown'] as const;
export const verdictCodeSchema = z.enum(verdictCodes);
export type VerdictCode = z.infer<typeof verdictCodeSchema>;

export const spreadSchema = z.object({
  low: z.number(),
  middle: z.number(),
  high: z.number(),
});
export type SpreadAnswer = z.infer<typeof spreadSchema>;

export const standingCodes = [
  'recommended',
  'acceptable',
  'outside-limits',
  'unknown',
  'below-minimum-altitude',
  'above-ceiling',
  'needs-oxygen',
  'leg-too-short',
] as const;
