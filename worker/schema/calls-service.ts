/** The calls that tell of the service itself. */
import * as z from 'zod/mini';
import type { Call } from './call.ts';
import { healthSchema } from './sources.ts';

const healthQuerySchema = z.object({ strict: z.optional(z.enum(['1'])) });

export const getHealth = {
  name: 'getHealth',
  method: 'GET',
  path: '/api/health',
  summary: 'Tells the version, how new the data are, and whether a bundled sample reads as it should',
  access: 'open',
  /** With strict=1 anything late or alarming is answered with 503. */
  query: healthQuerySchema,
  answer: { 200: healthSchema, 503: healthSchema },
} as const satisfies Call;

export const getMetrics = {
  name: 'getMetrics',
  method: 'GET',
  path: '/api/metrics',
  summary: 'Gives counts and ages of everything that may go wrong, as text for a monitor',
  access: 'operator',
  answer: { 200: 'application/openmetrics-text' },
} as const satisfies Call;

export const getOpenapi = {
  name: 'getOpenapi',
  method: 'GET',
  path: '/api/openapi.json',
  summary: 'Describes every call in OpenAPI 3.1, made from the same schemas that check them',
  access: 'open',
  answer: { 200: z.looseObject({ openapi: z.string(), paths: z.record(z.string(), z.unknown()) }) },
} as const satisfies Call;

export const getDocs = {
  name: 'getDocs',
  method: 'GET',
  path: '/api/docs',
  summary: 'Shows this interface as a page for people',
  access: 'open',
  answer: { 200: 'text/html' },
} as const satisfies Call;
