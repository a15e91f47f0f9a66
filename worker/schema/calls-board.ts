/** The calls of a network board. */
import * as z from 'zod/mini';
import { auditAnswerSchema } from './audit.ts';
import {
  acknowledgedSchema,
  acknowledgeSchema,
  boardAnswerSchema,
  boardDeltaSchema,
  boardFlightSchema,
  boardsAnswerSchema,
  createBoardSchema,
  createdBoardSchema,
  createdLinkSchema,
  createLinkSchema,
  importAnswerSchema,
  legsAnswerSchema,
  linksAnswerSchema,
  markSchema,
  personSchema,
  pushKeyAnswerSchema,
  pushSubscriptionSchema,
  putLegsSchema,
  putTailSchema,
  scheduleLegSchema,
  sharedFlightSchema,
  storedLegSchema,
  tailSchema,
} from './board.ts';
import type { Call } from './call.ts';
import { instantSchema } from './request.ts';

/** 2,000 legs, with room. */
const MOST_LEGS_BYTES = 4 * 1024 * 1024;

export const getBoards = {
  name: 'getBoards',
  method: 'GET',
  path: '/api/boards',
  summary: "Lists the operator's boards",
  access: 'operator',
  answer: { 200: boardsAnswerSchema },
} as const satisfies Call;

export const postBoards = {
  name: 'postBoards',
  method: 'POST',
  path: '/api/boards',
  summary: 'Makes a board, with one link that may change it and one that may only look at it',
  access: 'operator',
  request: createBoardSchema,
  answer: { 201: createdBoardSchema },
} as const satisfies Call;

export const deleteBoard = {
  name: 'deleteBoard',
  method: 'DELETE',
  path: '/api/boards/{board}',
  summary: 'Deletes a board with its legs, flights, logs and links',
  access: 'board-own',
  answer: { 204: null },
} as const satisfies Call;

export const getBoardPage = {
  name: 'getBoardPage',
  method: 'GET',
  path: '/board/{board}',
  summary: 'Opens the page of a board; its secret stands behind the # and is never sent',
  access: 'open',
  answer: { 200: 'text/html' },
} as const satisfies Call;

const windowQuerySchema = z.object({
  fromUtc: z.optional(instantSchema),
  toUtc: z.optional(instantSchema),
});

export const getBoard = {
  name: 'getBoard',
  method: 'GET',
  path: '/api/boards/{board}',
  summary: 'Gives the whole board: every flight with its verdict, its marks and what changed',
  access: 'board-view',
  /** Flights that depart within; the board's own window where one is left out. */
  query: windowQuerySchema,
  answer: { 200: boardAnswerSchema },
} as const satisfies Call;

const sinceQuerySchema = z.object({
  since: z.pipe(z.string().check(z.regex(/^\d{1,15}$/)), z.transform(Number)),
});

export const getBoardChanges = {
  name: 'getBoardChanges',
  method: 'GET',
  path: '/api/boards/{board}/changes',
  summary: 'Gives what changed on the board after a number that an earlier answer told',
  access: 'board-view',
  query: sinceQuerySchema,
  answer: { 200: boardDeltaSchema },
} as const satisfies Call;

export const getBoardLive = {
  name: 'getBoardLive',
  method: 'GET',
  path: '/api/boards/{board}/live',
  summary:
    'Opens a WebSocket that tells every change: subprotocols rimeway-board and key.{secret}, messages as of the schema LiveMessage',
  access: 'board-view',
  keyIn: 'subprotocol',
  answer: { 101: null },
} as const satisfies Call;

export const getBoardLinks = {
  name: 'getBoardLinks',
  method: 'GET',
  path: '/api/boards/{board}/links',
  summary: 'Lists the links that open a board, without their secrets',
  access: 'board-own',
  answer: { 200: linksAnswerSchema },
} as const satisfies Call;

export const postBoardLink = {
  name: 'postBoardLink',
  method: 'POST',
  path: '/api/boards/{board}/links',
  summary: 'Makes one more link to a board; its secret is told this once',
  access: 'board-own',
  request: createLinkSchema,
  answer: { 201: createdLinkSchema },
} as const satisfies Call;

export const deleteBoardLink = {
  name: 'deleteBoardLink',
  method: 'DELETE',
  path: '/api/boards/{board}/links/{keyId}',
  summary: 'Takes a link back: it opens nothing any more, and connections made with it end',
  access: 'board-own',
  answer: { 204: null },
} as const satisfies Call;

export const getBoardLegs = {
  name: 'getBoardLegs',
  method: 'GET',
  path: '/api/boards/{board}/legs',
  summary: 'Gives the schedule: every leg with its weekdays and local time',
  access: 'board-view',
  answer: { 200: legsAnswerSchema },
} as const satisfies Call;

export const postBoardLegs = {
  name: 'postBoardLegs',
  method: 'POST',
  path: '/api/boards/{board}/legs',
  summary: 'Adds legs to the schedule, or puts them in the place of all it had',
  access: 'board-edit',
  request: putLegsSchema,
  mostBytes: MOST_LEGS_BYTES,
  answer: { 201: legsAnswerSchema },
} as const satisfies Call;

const importQuerySchema = z.object({ replace: z.optional(z.enum(['true', 'false'])) });

export const importBoardLegs = {
  name: 'importBoardLegs',
  method: 'POST',
  path: '/api/boards/{board}/legs/import',
  summary: 'Reads a schedule as CSV; keeps the lines that read and gives the reason of each that does not',
  access: 'board-edit',
  raw: { contentTypes: ['text/csv'] },
  mostBytes: 1024 * 1024,
  query: importQuerySchema,
  answer: { 201: importAnswerSchema, 422: importAnswerSchema },
} as const satisfies Call;

export const putBoardLeg = {
  name: 'putBoardLeg',
  method: 'PUT',
  path: '/api/boards/{board}/legs/{leg}',
  summary: 'Changes one leg of the schedule',
  access: 'board-edit',
  request: scheduleLegSchema,
  answer: { 200: storedLegSchema },
} as const satisfies Call;

export const deleteBoardLeg = {
  name: 'deleteBoardLeg',
  method: 'DELETE',
  path: '/api/boards/{board}/legs/{leg}',
  summary: 'Takes one leg off the schedule',
  access: 'board-edit',
  answer: { 204: null },
} as const satisfies Call;

export const putBoardTail = {
  name: 'putBoardTail',
  method: 'PUT',
  path: '/api/boards/{board}/tails/{tail}',
  summary: 'Enters the fluid on board of an aeroplane, and what of its ice equipment is inoperative',
  access: 'board-edit',
  request: putTailSchema,
  answer: { 200: tailSchema },
} as const satisfies Call;

export const postFlightMark = {
  name: 'postFlightMark',
  method: 'POST',
  path: '/api/boards/{board}/flights/{flight}/marks',
  summary: 'Marks a flight as departed, arrived or cancelled, or takes the mark off',
  access: 'board-edit',
  request: markSchema,
  answer: { 200: boardFlightSchema },
} as const satisfies Call;

export const postFlightShared = {
  name: 'postFlightShared',
  method: 'POST',
  path: '/api/boards/{board}/flights/{flight}/shared',
  summary: "Stores the flight's brief as it is now and gives the link to it",
  access: 'board-edit',
  answer: { 201: sharedFlightSchema },
} as const satisfies Call;

export const postFlightEvaluate = {
  name: 'postFlightEvaluate',
  method: 'POST',
  path: '/api/boards/{board}/flights/{flight}/evaluate',
  summary: 'Asks for a flight to be worked out again, ahead of its turn',
  access: 'board-edit',
  answer: { 202: null },
} as const satisfies Call;

export const postAcknowledgement = {
  name: 'postAcknowledgement',
  method: 'POST',
  path: '/api/boards/{board}/acknowledgements',
  summary: 'Notes in the log that somebody has seen a change of a flight',
  access: 'board-edit',
  request: acknowledgeSchema,
  answer: { 201: acknowledgedSchema },
} as const satisfies Call;

export const getBoardLogCsv = {
  name: 'getBoardLogCsv',
  method: 'GET',
  path: '/api/boards/{board}/log.csv',
  summary: 'Gives the log of acknowledgements as CSV',
  access: 'board-edit',
  answer: { 200: 'text/csv' },
} as const satisfies Call;

const personQuerySchema = z.object({ person: personSchema });

export const deleteBoardPerson = {
  name: 'deleteBoardPerson',
  method: 'DELETE',
  path: '/api/boards/{board}/log',
  summary: "Takes a person's name off the board and its log, and says how many rows that was",
  access: 'board-own',
  query: personQuerySchema,
  answer: { 200: z.object({ deleted: z.number() }) },
} as const satisfies Call;

export const getBoardCsv = {
  name: 'getBoardCsv',
  method: 'GET',
  path: '/api/boards/{board}/export.csv',
  summary: 'Gives the flights of the board as CSV',
  access: 'board-view',
  query: windowQuerySchema,
  answer: { 200: 'text/csv' },
} as const satisfies Call;

export const getBoardGeojson = {
  name: 'getBoardGeojson',
  method: 'GET',
  path: '/api/boards/{board}/export.geojson',
  summary: 'Gives the flights of the board as GeoJSON, each a line',
  access: 'board-view',
  query: windowQuerySchema,
  answer: { 200: 'application/geo+json' },
} as const satisfies Call;

export const getBoardAudit = {
  name: 'getBoardAudit',
  method: 'GET',
  path: '/api/boards/{board}/audit',
  summary: 'Lists every write to a board: when, by whom, what, and how it was answered',
  access: 'board-own',
  answer: { 200: auditAnswerSchema },
} as const satisfies Call;

export const getPushKey = {
  name: 'getPushKey',
  method: 'GET',
  path: '/api/push-key',
  summary: "Gives the key with which a browser subscribes to this instance's push messages",
  access: 'open',
  answer: { 200: pushKeyAnswerSchema },
} as const satisfies Call;

export const postBoardPush = {
  name: 'postBoardPush',
  method: 'POST',
  path: '/api/boards/{board}/push',
  summary: 'Has one browser told when a verdict on the board worsens',
  access: 'board-view',
  request: pushSubscriptionSchema,
  answer: { 201: null },
} as const satisfies Call;

const endpointQuerySchema = z.object({ endpoint: z.url().check(z.maxLength(1000)) });

export const deleteBoardPush = {
  name: 'deleteBoardPush',
  method: 'DELETE',
  path: '/api/boards/{board}/push',
  summary: 'Ends the push messages of one browser',
  access: 'board-view',
  query: endpointQuerySchema,
  answer: { 204: null },
} as const satisfies Call;
