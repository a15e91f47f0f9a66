/**
 * The network board: an operator's legs by weekday and time, each flight of them with its verdict, and what changed. A board's page,
 * its exports and API users all read these.
 */
import * as z from 'zod/mini';
import { intensitySchema, largeDropsSchema } from './cell-words.ts';
import { verdictCodeSchema } from './choice-words.ts';
import { aircraftChoiceSchema, briefOptionsSchema, briefRequestSchema, instantSchema } from './request.ts';

/** Of a board, a leg, a key: 22 characters of base64url. */
export const boardIdSchema = z.string().check(z.regex(/^[A-Za-z0-9_-]{22}$/));
/** Leg and its local day: "{leg}.2026-01-14". */
export const flightIdSchema = z.string().check(z.regex(/^[A-Za-z0-9_-]{22}\.\d{4}-\d{2}-\d{2}$/));

const name = (most: number) => z.string().check(z.trim(), z.minLength(1), z.maxLength(most));
/** A person, as they name themselves. */
export const personSchema = name(60);
const dateSchema = z.iso.date();

/** Monday first, as ISO 8601 counts. */
export const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** An IANA zone that this runtime knows. */
export const timeZoneSchema = z.string().check(
  z.maxLength(60),
  z.refine((zone) => {
    try {
      return new Intl.DateTimeFormat('en', { timeZone: zone }).resolvedOptions().timeZone !== '';
    } catch {
      return false;
    }
  }, 'an IANA time zone such as America/New_York'),
);

/** What the weather at an aerodrome is held against; the operator's own figures for the approach it expects. */
export const minimaSchema = z.strictObject({
  /** Above the aerodrome; null: no ceiling is required. */
  ceilingFt: z.nullable(z.number().check(z.gte(0), z.lte(5000))),
  visibilityM: z.number().check(z.gte(0), z.lte(16_000)),
});
export type Minima = z.infer<typeof minimaSchema>;

/** One leg of the schedule, as it is typed or imported. */
export const scheduleLegSchema = z.strictObject({
  /** Flight number or call sign. */
  label: name(20),
  /** Registration, or any name of the aeroplane; null while none is planned. */
  tail: z.nullable(name(12)),
  route: z.string().check(z.minLength(3), z.maxLength(500)),
  weekdays: z.array(z.enum(WEEKDAYS)).check(z.minLength(1), z.maxLength(7)),
  /** Off-block, on the wall clock of the leg's time zone: "05:40". */
  departureLocal: z.string().check(z.regex(/^([01]\d|2[0-3]):[0-5]\d$/)),
  /** null: the board's own. */
  timeZone: z.nullable(timeZoneSchema),
  /** First and last local day, both included; null without end. */
  fromDate: z.nullable(dateSchema),
  untilDate: z.nullable(dateSchema),
  aircraft: aircraftChoiceSchema,
  /** Of the whole flight, block to block; the overdue mark counts with it where no altitude can be flown. */
  plannedMinutes: z.nullable(z.number().check(z.gte(1), z.lte(1440))),
  alternate: z.nullable(z.string().check(z.minLength(1), z.maxLength(10))),
  destinationMinima: z.nullable(minimaSchema),
  alternateMinima: z.nullable(minimaSchema),
  /** Without what the board itself says of every flight. */
  options: z.optional(
    z.omit(briefOptionsSchema, {
      fluidOnBoardL: true,
      curtain: true,
      laterDepartures: true,
      otherRoutes: true,
      alternate: true,
    }),
  ),
});
export type ScheduleLeg = z.infer<typeof scheduleLegSchema>;

export const storedLegSchema = z.object({ id: boardIdSchema, leg: scheduleLegSchema });
export type StoredLeg = z.infer<typeof storedLegSchema>;

export const legsAnswerSchema = z.object({ legs: z.array(storedLegSchema) });
export type LegsAnswer = z.infer<typeof legsAnswerSchema>;

export const MOST_LEGS = 2000;

/** POST …/legs: adds them, or puts them in the place of all that the board had. */
export const putLegsSchema = z.strictObject({
  replace: z.boolean(),
  legs: z.array(scheduleLegSchema).check(z.minLength(1), z.maxLength(MOST_LEGS)),
});

/** A line of CSV that did not read; lines count from 1, the header's. */
export const rejectedLineSchema = z.object({ line: z.number(), reason: z.string() });

/** POST …/legs/import (text/csv): what was kept, and every line that was not with its reason. */
export const importAnswerSchema = z.object({
  stored: z.number(),
  rejected: z.array(rejectedLineSchema),
});
export type ImportAnswer = z.infer<typeof importAnswerSchema>;

/** Ice equipment of an aeroplane that may be inoperative; words of the trade. */
export const ICE_EQUIPMENT = [
  'wing-fluid',
  'tail-fluid',
  'propeller-fluid',
  'windshield',
  'pitot-heat',
  'stall-warning-heat',
  'inlet-separator',
  'ice-light',
] as const;
export type IceEquipment = (typeof ICE_EQUIPMENT)[number];

export const putTailSchema = z.strictObject({
  /** null: not known; left out: as it was entered, and when. */
  fluidOnBoardL: z.optional(z.nullable(z.number().check(z.gte(0), z.lte(1000)))),
  inoperative: z.array(z.enum(ICE_EQUIPMENT)).check(z.maxLength(ICE_EQUIPMENT.length)),
  note: z.string().check(z.maxLength(200)),
  by: personSchema,
});
export type PutTail = z.infer<typeof putTailSchema>;

export const tailSchema = z.object({
  tail: z.string(),
  fluidOnBoardL: z.nullable(z.number()),
  /** By the board's clock; null where no fluid is known. */
  fluidEnteredUtc: z.nullable(z.string()),
  inoperative: z.array(z.enum(ICE_EQUIPMENT)),
  note: z.string(),
  /** Anything of it, by the service's clock. */
  enteredUtc: z.string(),
  by: z.string(),
});
export type TailState = z.infer<typeof tailSchema>;

/** Forecast or observed weather of an aerodrome at a time, against what is required there. */
export const weatherStandingSchema = z.object({
  aerodrome: z.string(),
  /** For which instant. */
  atUtc: z.string(),
  standing: z.enum(['above', 'below', 'unknown']),
  /** "TAF 11 UTC: 400 ft, 1,600 m in snow" or why it is unknown. */
  sentence: z.string(),
  ceilingFt: z.nullable(z.number()),
  visibilityM: z.nullable(z.number()),
  /** When what it is read from was issued; null where nothing was. */
  issuedUtc: z.nullable(z.string()),
});
export type WeatherStanding = z.infer<typeof weatherStandingSchema>;

/** What one brief came to, without its pictures. */
export const evaluationSchema = z.object({
  atUtc: z.string(),
  /** What was asked: the page opens the very same. */
  request: briefRequestSchema,
  methodVersion: z.string(),
  verdict: verdictCodeSchema,
  sentence: z.string(),
  /** At most ten words to say on the radio. */
  radio: z.string(),
  /** Of the brief's reasons for its verdict, sorted, each once. */
  reasonCodes: z.array(z.string()),
  /** To file; null for none. */
  altitudeFt: z.nullable(z.number()),
  acceptFt: z.nullable(z.object({ lowerFt: z.number(), upperFt: z.number() })),
  /** Of the altitude to file, or the least bad one; null where none can be flown. */
  exposure: z.nullable(
    z.object({
      altitudeFt: z.number(),
      timeMinutes: z.number(),
      icingMinutesHigh: z.number(),
      unknownMinutes: z.number(),
      builtMmHigh: z.number(),
      worstIntensity: z.nullable(intensitySchema),
      worstLargeDrops: largeDropsSchema,
      /** Taken off the tank by trip, vectors and approach, priming included; null without a fluid system. */
      fluidTripHighL: z.nullable(z.number()),
    }),
  ),
  fluid: z.nullable(
    z.object({ onBoardL: z.number(), neededHighL: z.number(), coversHighEstimate: z.boolean() }),
  ),
  /** Why the fluid on board is not known; empty where it is, or does not matter. */
  fluidUnknownWhy: z.string(),
  destination: weatherStandingSchema,
  alternate: z.nullable(weatherStandingSchema),
  arrivalUtc: z.nullable(z.string()),
  /** The newest and the oldest instant that data in use are valid from (a run, an ascent); null without any. */
  newestDataUtc: z.nullable(z.string()),
  oldestDataUtc: z.nullable(z.string()),
  staleAtUtc: z.nullable(z.string()),
  hasInventedData: z.boolean(),
  /** [lon, lat] of each route point, for the plan of the network; a tenth of a mile is enough. */
  line: z.array(z.tuple([z.number(), z.number()])),
});
export type Evaluation = z.infer<typeof evaluationSchema>;

export const changeSchema = z.object({
  /** Counts up by one with every change of the board. */
  seq: z.number(),
  atUtc: z.string(),
  kind: z.enum(['first', 'worse', 'better', 'other', 'mark', 'tail', 'schedule']),
  /** "Within limits at 11,000 ft, was no ice found at 9,000 ft". */
  sentence: z.string(),
});
export type Change = z.infer<typeof changeSchema>;

export const acknowledgedSchema = z.object({ seq: z.number(), by: z.string(), atUtc: z.string() });

export const boardFlightSchema = z.object({
  id: z.string(),
  legId: z.string(),
  /** Of the board when this flight last changed in any way. */
  seq: z.number(),
  label: z.string(),
  tail: z.nullable(z.string()),
  from: z.string(),
  to: z.string(),
  routeText: z.string(),
  departureUtc: z.string(),
  /** Carries unknown: not evaluated, failed, too old. */
  verdict: verdictCodeSchema,
  /** Why the verdict is what it is, in one sentence. */
  why: z.string(),
  /** By time alone the verdict holds until then, by the board's clock; null where it does not hold, or no time ends it. */
  holdsUntilUtc: z.nullable(z.string()),
  /** null while there is none. */
  evaluation: z.nullable(evaluationSchema),
  /** The last attempt, where it failed. */
  failure: z.nullable(z.object({ atUtc: z.string(), sentence: z.string() })),
  inoperative: z.array(z.enum(ICE_EQUIPMENT)),
  change: z.nullable(changeSchema),
  acknowledged: z.nullable(acknowledgedSchema),
  /** The brief that was shared of it last. */
  shared: z.nullable(
    z.object({
      id: z.string(),
      atUtc: z.string(),
      /** What is another since; empty while nothing is. */
      since: z.array(z.string()),
    }),
  ),
  departed: z.nullable(z.object({ atUtc: z.string(), by: z.string() })),
  arrived: z.nullable(z.object({ atUtc: z.string(), by: z.string() })),
  /** From when on it is overdue with the marks it has; null once it has arrived. */
  overdueAtUtc: z.nullable(z.string()),
  cancelled: z.boolean(),
});
export type BoardFlight = z.infer<typeof boardFlightSchema>;

export const boardHeadSchema = z.object({
  id: z.string(),
  name: z.string(),
  timeZone: z.string(),
  /** A board for training stands at one instant; null for one that goes with the clock. */
  standsAtUtc: z.nullable(z.string()),
});
export type BoardHead = z.infer<typeof boardHeadSchema>;

export const boardAccess = ['view', 'edit'] as const;
export type BoardAccess = (typeof boardAccess)[number];

/** GET /api/boards/{id}. */
export const boardAnswerSchema = z.object({
  board: boardHeadSchema,
  /** What the key of this call allows. */
  access: z.enum(boardAccess),
  /** The service's clock, or the instant that the board stands at. */
  asOfUtc: z.string(),
  seq: z.number(),
  flights: z.array(boardFlightSchema),
  tails: z.array(tailSchema),
  /** Flights that wait to be worked out again. */
  waiting: z.number(),
  cautions: z.array(z.string()),
});
export type BoardAnswer = z.infer<typeof boardAnswerSchema>;

/** GET …/changes?since=: what is another, whole; what is no more, by name. The same comes over the live connection. */
export const boardDeltaSchema = z.object({
  /** The delta begins after this. */
  sinceSeq: z.number(),
  seq: z.number(),
  asOfUtc: z.string(),
  flights: z.array(boardFlightSchema),
  removed: z.array(z.string()),
  tails: z.array(tailSchema),
  waiting: z.number(),
  /** Too much happened since: ask for the whole board. */
  isTooOld: z.boolean(),
});
export type BoardDelta = z.infer<typeof boardDeltaSchema>;

/** What the live connection says. */
export const liveMessageSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('delta'), delta: boardDeltaSchema }),
  /** More than a message holds: ask for the changes. */
  z.object({ kind: z.literal('ask'), seq: z.number() }),
]);
export type LiveMessage = z.infer<typeof liveMessageSchema>;

/* ---- writes ---- */

export const createBoardSchema = z.strictObject({
  name: name(80),
  timeZone: timeZoneSchema,
  standsAtUtc: z.optional(instantSchema),
});

const linkSchema = z.object({
  /** Names the link in lists; opens nothing. */
  keyId: z.string(),
  access: z.enum(boardAccess),
  /** "/board/{id}#{key}": what follows the # never reaches a server's log. */
  link: z.string(),
  /** Authorization: Bearer …; told this once. */
  key: z.string(),
});

/** 201 of POST /api/boards. */
export const createdBoardSchema = z.object({ id: z.string(), links: z.array(linkSchema) });
export type CreatedBoard = z.infer<typeof createdBoardSchema>;

export const createLinkSchema = z.strictObject({ access: z.enum(boardAccess), label: name(60) });
export const createdLinkSchema = linkSchema;
export type CreatedLink = z.infer<typeof createdLinkSchema>;

export const linksAnswerSchema = z.object({
  links: z.array(
    z.object({
      keyId: z.string(),
      access: z.enum(boardAccess),
      label: z.string(),
      createdUtc: z.string(),
      revokedUtc: z.nullable(z.string()),
    }),
  ),
});
export type LinksAnswer = z.infer<typeof linksAnswerSchema>;

export const boardsAnswerSchema = z.object({ boards: z.array(boardHeadSchema) });

/** Departed, arrived, cancelled; atUtc null takes the mark off. */
export const markSchema = z.strictObject({
  mark: z.enum(['departed', 'arrived', 'cancelled']),
  atUtc: z.nullable(instantSchema),
  by: personSchema,
});
export type Mark = z.infer<typeof markSchema>;

export const acknowledgeSchema = z.strictObject({
  flightId: flightIdSchema,
  /** The change that was seen. */
  seq: z.int().check(z.gte(1)),
  by: personSchema,
});

/** 201 of POST …/flights/{flight}/shared. */
export const sharedFlightSchema = z.object({ id: z.string(), link: z.string() });

/** What a browser gives for Web Push (RFC 8030, 8291), and who asked. */
export const pushSubscriptionSchema = z.strictObject({
  endpoint: z.url().check(z.maxLength(1000)),
  keys: z.strictObject({
    p256dh: z.string().check(z.regex(/^[A-Za-z0-9_-]{80,100}={0,2}$/)),
    auth: z.string().check(z.regex(/^[A-Za-z0-9_-]{20,30}={0,2}$/)),
  }),
  by: personSchema,
});
export type PushSubscriptionEntry = z.infer<typeof pushSubscriptionSchema>;

export const pushKeyAnswerSchema = z.object({
  /** Application server key (VAPID, RFC 8292), base64url; null where this instance sends none. */
  publicKey: z.nullable(z.string()),
});
