/** The calls that take data in, but for reports. */
import * as z from 'zod/mini';
import type { Call } from './call.ts';
import { holdoverTableSchema, storedHoldoverSchema } from './holdover.ts';
import { fetchGridSchema, storedGridsSchema, storedPlacesSchema, storedSoundingsSchema } from './uploads.ts';

const MIB = 1024 * 1024;
const BYTES = 'application/octet-stream';

/** Texts in the address, which the handler reads: what they mean depends on the file. */
const text = z.optional(z.string());

export const postSoundings = {
  name: 'postSoundings',
  method: 'POST',
  path: '/api/soundings',
  summary: 'Takes ascents as IGRA, TEMP or BUFR, and tells what was read level by level',
  access: 'operator',
  raw: { contentTypes: [BYTES, 'text/plain'] },
  mostBytes: 100 * MIB,
  query: z.object({ near: text, latDeg: text, lonDeg: text, elevationM: text }),
  answer: { 201: storedSoundingsSchema, 422: storedSoundingsSchema },
} as const satisfies Call;

export const postGrids = {
  name: 'postGrids',
  method: 'POST',
  path: '/api/grids',
  summary:
    'Takes a GRIB2 file, or the address of one in an allowed bucket, and tells which hours were stored',
  access: 'operator',
  request: fetchGridSchema,
  raw: { contentTypes: [BYTES] },
  /** A body larger than this never reaches a Worker anyway. */
  mostBytes: 500 * MIB,
  answer: { 201: storedGridsSchema, 422: storedGridsSchema },
} as const satisfies Call;

export const postHoldover = {
  name: 'postHoldover',
  method: 'POST',
  path: '/api/holdover',
  summary: 'Takes one holdover table, and tells what it changes of the one before it',
  access: 'operator',
  request: holdoverTableSchema,
  raw: { contentTypes: ['text/csv', BYTES] },
  mostBytes: 256 * 1024,
  answer: { 201: storedHoldoverSchema },
} as const satisfies Call;

export const postPlaces = {
  name: 'postPlaces',
  method: 'POST',
  path: '/api/places',
  summary: "Takes an operator's own fixes or spot heights as CSV",
  access: 'operator',
  raw: { contentTypes: ['text/csv', BYTES] },
  mostBytes: 4 * MIB,
  answer: { 201: storedPlacesSchema, 422: storedPlacesSchema },
} as const satisfies Call;
