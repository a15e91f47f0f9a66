/** What every call answers when it cannot do what was asked: RFC 9457. */
import * as z from 'zod/mini';

export const problemSchema = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number(),
  detail: z.string(),
  /** Path of the offending member, when there is one. */
  field: z.optional(z.string()),
});
export type Problem = z.infer<typeof problemSchema>;
