/** Several legs on one tank: what is asked, and what is answered. */
import * as z from 'zod/mini';
import { dataUsedSchema } from './brief.ts';
import { spreadSchema, verdictCodeSchema } from './choice-words.ts';
import { aircraftChoiceSchema, briefOptionsSchema, departureSchema, routeSchema } from './request.ts';

const MOST_LEGS = 8;
const fluidL = z.number().check(z.gte(0), z.lte(1000));

const sequenceLegSchema = z.strictObject({
  route: routeSchema,
  /** The first leg needs one; a later one leaves then, or when the aeroplane is there and turned round. */
  departure: z.optional(departureSchema),
  /** On the ground before the leg; default 30 where the leg has no departure of its own. */
  turnMinutes: z.optional(z.number().check(z.gte(0), z.lte(2880))),
  /** Fluid filled up to this before the leg. */
  refillToL: z.optional(fluidL),
  /** All ice is taken off before the leg. */
  deiced: z.optional(z.boolean()),
  options: z.optional(
    z.omit(briefOptionsSchema, {
      fluidOnBoardL: true,
      takeoffWeightKg: true,
      curtain: true,
      laterDepartures: true,
      otherRoutes: true,
    }),
  ),
});
export type SequenceLeg = z.infer<typeof sequenceLegSchema>;

export const sequenceRequestSchema = z.strictObject({
  legs: z.array(sequenceLegSchema).check(z.minLength(1), z.maxLength(MOST_LEGS)),
  aircraft: aircraftChoiceSchema,
  /** Before the first leg; unknown when it is not said. */
  fluidOnBoardL: z.optional(fluidL),
});
export type SequenceRequest = z.infer<typeof sequenceRequestSchema>;

export const sequenceLegAnswerSchema = z.object({
  from: z.string(),
  to: z.string(),
  routeText: z.string(),
  departureUtc: z.string(),
  arrivalUtc: z.string(),
  verdict: verdictCodeSchema,
  /** The altitude that the figures are of, acceptable or the least bad; null when none can be flown. */
  altitudeFt: z.nullable(z.number()),
  /** What is surely on board; null where unknown and without a fluid system. */
  fluidAtStartL: z.nullable(z.number()),
  /** By trip, vectors and approach, without the reserve; null where unknown and without a fluid system. */
  fluidUsedL: z.nullable(spreadSchema),
  /** Of what is surely on board at the start; the next leg has the low one. */
  fluidLeftL: z.nullable(spreadSchema),
  /** Ice on unprotected parts at lift-off and on arrival, high estimates; null where unknown. */
  iceAtStartMm: z.nullable(z.number()),
  residualIceMm: z.nullable(z.number()),
  sentence: z.string(),
  data: z.array(dataUsedSchema),
});
export type SequenceLegAnswer = z.infer<typeof sequenceLegAnswerSchema>;

export const sequenceAnswerSchema = z.object({
  legs: z.array(sequenceLegAnswerSchema),
  /** The gravest of the legs. */
  verdict: verdictCodeSchema,
  sentence: z.string(),
  cautions: z.array(z.string()),
  method: z.object({ version: z.string() }),
  /** The first instant at which data of any leg is due to be replaced; null without data. */
  staleAtUtc: z.nullable(z.string()),
});
export type SequenceAnswer = z.infer<typeof sequenceAnswerSchema>;
