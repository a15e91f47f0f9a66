/** The calls that take data in, and those that tell what is held. */
import * as z from 'zod/mini';
import { aircraftListSchema } from './aircraft.ts';
import type { Call } from './call.ts';
import { holdoverTableSchema, holdoverTablesSchema, storedHoldoverSchema } from './holdover.ts';
import { placesAnswerSchema, placesQuerySchema } from './places.ts';
import { skillAnswerSchema, skillQuerySchema } from './skill.ts';
import { sourcesAnswerSchema } from './sources.ts';
import {
  fetchGridSchema,
  storedGridsSchema,
  storedPlacesSchema,
  storedReportsSchema,
  storedSoundingsSchema,
} from './uploads.ts';

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

export const postReports = {
  name: 'postReports',
  method: 'POST',
  path: '/api/reports',
  summary:
    "Takes METAR, TAF, SIGMET, AIRMET and pilots' reports in any mixture, and tells what was kept of each",
  access: 'operator',
  raw: { contentTypes: ['text/plain', BYTES] },
  /** A day's collective of the world is under two. */
  mostBytes: 4 * MIB,
  query: z.object({ near: text }),
  answer: { 201: storedReportsSchema, 422: storedReportsSchema },
} as const satisfies Call;

export const getHoldover = {
  name: 'getHoldover',
  method: 'GET',
  path: '/api/holdover',
  summary: 'Gives the holdover tables in use',
  access: 'read',
  answer: { 200: holdoverTablesSchema },
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

export const getPlaces = {
  name: 'getPlaces',
  method: 'GET',
  path: '/api/places',
  summary: 'Finds aerodromes and fixes by identifier or name, or the aerodromes inside a box',
  access: 'read',
  query: placesQuerySchema,
  answer: { 200: placesAnswerSchema },
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

export const getSources = {
  name: 'getSources',
  method: 'GET',
  path: '/api/sources',
  summary: 'Lists the ascents, forecast hours and reports that are held, and what the supply asked for',
  access: 'read',
  answer: { 200: sourcesAnswerSchema },
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

export const getAircraft = {
  name: 'getAircraft',
  method: 'GET',
  path: '/api/aircraft',
  summary: 'Lists the built-in aircraft profiles, whose figures are all invented',
  access: 'open',
  answer: { 200: aircraftListSchema },
} as const satisfies Call;
