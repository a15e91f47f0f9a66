/** The calls of reports: those that come in, and how forecasts did against them. A file of their own, so that a page loads them late. */
import * as z from 'zod/mini';
import type { Call } from './call.ts';
import { skillAnswerSchema, skillQuerySchema } from './skill.ts';
import { storedReportsSchema } from './uploads.ts';

export const postReports = {
  name: 'postReports',
  method: 'POST',
  path: '/api/reports',
  summary:
    "Takes METAR, TAF, SIGMET, AIRMET and pilots' reports in any mixture, and tells what was kept of each",
  access: 'operator',
  raw: { contentTypes: ['text/plain', 'application/octet-stream'] },
  /** A day's collective of the world is under two. */
  mostBytes: 4 * 1024 * 1024,
  query: z.object({ near: z.optional(z.string()) }),
  answer: { 201: storedReportsSchema, 422: storedReportsSchema },
} as const satisfies Call;

export const getSkill = {
  name: 'getSkill',
  method: 'GET',
  path: '/api/skill',
  summary: "Tells how forecasts did against pilots' reports, and reported cloud tops beside forecast ones",
  access: 'read',
  query: skillQuerySchema,
  answer: { 200: skillAnswerSchema },
} as const satisfies Call;
