/** GET /api/boards/{board}/audit: who wrote what to a board. */
import * as z from 'zod/mini';

/** Newest first. */
export const auditAnswerSchema = z.object({
  entries: z.array(
    z.object({
      atUtc: z.string(),
      /** "operator local", "key {keyId}" or "sign-in {subject}". */
      principal: z.string(),
      /** Name of the call. */
      action: z.string(),
      target: z.string(),
      /** HTTP status of its answer. */
      status: z.number(),
    }),
  ),
});
export type AuditAnswer = z.infer<typeof auditAnswerSchema>;
