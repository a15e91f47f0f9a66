/** The calls that tell what is held. */
import { aircraftListSchema } from './aircraft.ts';
import type { Call } from './call.ts';
import { holdoverTablesSchema } from './holdover.ts';
import { placesAnswerSchema, placesQuerySchema } from './places.ts';
import { sourcesAnswerSchema } from './sources.ts';

export const getHoldover = {
  name: 'getHoldover',
  method: 'GET',
  path: '/api/holdover',
  summary: 'Gives the holdover tables in use',
  access: 'read',
  answer: { 200: holdoverTablesSchema },
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

export const getSources = {
  name: 'getSources',
  method: 'GET',
  path: '/api/sources',
  summary: 'Lists the ascents, forecast hours and reports that are held, and what the supply asked for',
  access: 'read',
  answer: { 200: sourcesAnswerSchema },
} as const satisfies Call;

export const getAircraft = {
  name: 'getAircraft',
  method: 'GET',
  path: '/api/aircraft',
  summary: 'Lists the built-in aircraft profiles, whose figures are all invented',
  access: 'open',
  answer: { 200: aircraftListSchema },
} as const satisfies Call;
