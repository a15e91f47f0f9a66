/** Briefs shared by a link: what creating one answers, and what is told of one beside its bytes. */
import * as z from 'zod/mini';
import { briefRequestSchema } from './request.ts';

/** 201 of POST /api/briefs. The key is told this once. */
export const createdBriefSchema = z.object({
  id: z.string(),
  /** Where people open it. */
  link: z.string(),
  /** Takes it back: Authorization: Bearer … with DELETE /api/briefs/{id}. */
  key: z.string(),
  sha256: z.string(),
  createdUtc: z.string(),
  expiresUtc: z.string(),
  /** Of GET /api/briefs/{id}/inputs; null where what it was made from is too much to keep: its proof then lasts as the stores do. */
  inputsSha256: z.optional(z.nullable(z.string())),
});
export type CreatedBrief = z.infer<typeof createdBriefSchema>;

/** GET /api/briefs/{id}/about. */
export const aboutBriefSchema = z.object({
  id: z.string(),
  createdUtc: z.string(),
  expiresUtc: z.string(),
  sha256: z.string(),
  methodVersion: z.string(),
  /** As when it was created. */
  inputsSha256: z.optional(z.nullable(z.string())),
  /** What was asked: the same leg can be briefed anew with it. null where the contract of today does not take it any more. */
  request: z.nullable(briefRequestSchema),
  /** Then this is what was asked, as it was stored. */
  storedRequest: z.optional(z.unknown()),
});
export type AboutBrief = z.infer<typeof aboutBriefSchema>;

/** POST /api/briefs/{id}/proof. */
export const proofSchema = z.object({
  /** equal: the same bytes from the same request. */
  outcome: z.enum(['equal', 'different', 'other-method']),
  /** Made again from the inputs kept beside it, or, where there are none, from what the stores still hold of that time. */
  over: z.enum(['inputs', 'stores']),
  sha256: z.string(),
  /** Of what was worked out now; null where it was not. */
  againSha256: z.nullable(z.string()),
  methodVersion: z.string(),
  /** Why it may differ, in words; empty when it is equal. */
  why: z.string(),
});
export type ProofAnswer = z.infer<typeof proofSchema>;
