/** The calls that work out briefs, and those that share one. */
import { briefSchema } from './brief.ts';
import type { Call } from './call.ts';
import { columnAnswerSchema, columnRequestSchema } from './column.ts';
import { briefRequestSchema } from './request.ts';
import { sequenceAnswerSchema, sequenceRequestSchema } from './sequence.ts';
import { aboutBriefSchema, createdBriefSchema, proofSchema } from './shared-brief.ts';

const GEOJSON = 'application/geo+json';

export const postBrief = {
  name: 'postBrief',
  method: 'POST',
  path: '/api/brief',
  summary: 'Works out the brief of one leg; the same request over the same data gives the same bytes',
  access: 'read',
  request: briefRequestSchema,
  mostBytes: 256 * 1024,
  answer: { 200: { contentType: GEOJSON, schema: briefSchema } },
} as const satisfies Call;

export const postSequence = {
  name: 'postSequence',
  method: 'POST',
  path: '/api/sequences',
  summary: 'Works out several legs on one tank of fluid, each with what the legs before leave it',
  access: 'read',
  request: sequenceRequestSchema,
  mostBytes: 1024 * 1024,
  answer: { 200: sequenceAnswerSchema },
} as const satisfies Call;

export const postColumn = {
  name: 'postColumn',
  method: 'POST',
  path: '/api/column',
  summary: 'Diagnoses one column of air level by level, with every intermediate figure',
  access: 'open',
  request: columnRequestSchema,
  mostBytes: 512 * 1024,
  answer: { 200: columnAnswerSchema },
} as const satisfies Call;

export const postSharedBrief = {
  name: 'postSharedBrief',
  method: 'POST',
  path: '/api/briefs',
  summary: 'Stores the brief of a leg as it is now, and gives a link to it and the key that takes it back',
  access: 'read',
  request: briefRequestSchema,
  mostBytes: 256 * 1024,
  answer: { 201: createdBriefSchema },
  limit: 'storing',
} as const satisfies Call;

export const getSharedBrief = {
  name: 'getSharedBrief',
  method: 'GET',
  path: '/api/briefs/{id}',
  summary: 'Gives the bytes of a shared brief, which never change',
  access: 'open',
  answer: { 200: { contentType: GEOJSON, schema: briefSchema }, 304: null },
} as const satisfies Call;

export const deleteSharedBrief = {
  name: 'deleteSharedBrief',
  method: 'DELETE',
  path: '/api/briefs/{id}',
  summary: 'Takes a shared brief back, by the key that was told when it was stored',
  access: 'brief-key',
  answer: { 204: null },
} as const satisfies Call;

export const getAboutBrief = {
  name: 'getAboutBrief',
  method: 'GET',
  path: '/api/briefs/{id}/about',
  summary: 'Tells when a shared brief was made, until when it stands, and what was asked',
  access: 'open',
  answer: { 200: aboutBriefSchema },
} as const satisfies Call;

export const getSharedInputs = {
  name: 'getSharedInputs',
  method: 'GET',
  path: '/api/briefs/{id}/inputs',
  summary:
    'Gives everything that a shared brief was made from, as JSON in gzip, so that anybody can make it again',
  access: 'open',
  answer: { 200: 'application/gzip' },
} as const satisfies Call;

export const postProof = {
  name: 'postProof',
  method: 'POST',
  path: '/api/briefs/{id}/proof',
  summary: 'Works a shared brief out again from the data of its time, and compares the bytes',
  access: 'read',
  answer: { 200: proofSchema },
  limit: 'writing',
} as const satisfies Call;

export const getBriefLink = {
  name: 'getBriefLink',
  method: 'GET',
  path: '/b/{id}',
  summary: 'Opens the page on a shared brief',
  access: 'open',
  answer: { 200: 'text/html' },
} as const satisfies Call;

export const getSharedPicture = {
  name: 'getSharedPicture',
  method: 'GET',
  path: '/b/{id}/picture.png',
  summary: 'Gives the picture of a shared brief that previews of its link show',
  access: 'open',
  answer: { 200: 'image/png' },
} as const satisfies Call;
