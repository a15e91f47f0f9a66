/** What a brief says of the ramp at the departure. */
import * as z from 'zod/mini';
import { FLUID_TYPES, MIXES, RAMP_CONDITIONS } from './ground-words.ts';
import { holdoverTableSchema } from './holdover.ts';

const conditions = z.array(z.enum(RAMP_CONDITIONS));

const needSchema = z.enum(['needed', 'may-be-needed', 'nothing-found', 'unknown']);

/** null members are not known. */
export const rampWeatherSchema = z.object({
  temperature: z.nullable(z.object({ warmestC: z.number(), coldestC: z.number() })),
  dewPointC: z.nullable(z.number()),
  windKt: z.nullable(z.number()),
  isSkyClear: z.nullable(z.boolean()),
  falling: z.nullable(conditions),
  isRaining: z.nullable(z.boolean()),
  /** Near, recent, expected, or not to be seen by a machine. */
  also: z.array(z.object({ need: needSchema, reason: z.string() })),
});

export const holdoverOutcomeSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('window'), minimumMinutes: z.number(), maximumMinutes: z.number() }),
  z.object({ kind: z.literal('none'), why: z.string() }),
  z.object({ kind: z.literal('unknown'), why: z.string() }),
  z.object({ kind: z.literal('not-asked') }),
]);

export const groundSchema = z.object({
  aerodrome: z.string(),
  /** The newest observation before the departure; null where none is held. */
  report: z.nullable(
    z.object({
      text: z.string(),
      observedUtc: z.string(),
      /** No older than 90 minutes at the departure: an older one is shown, and nothing is worked out from it. */
      isFresh: z.boolean(),
    }),
  ),
  /** What may fall within the hour around the departure; falling null: not known. */
  forecast: z.nullable(z.object({ text: z.string(), falling: z.nullable(conditions) })),
  weather: rampWeatherSchema,
  /** Types that the aircraft's profile lists from its flight manual; null where it does not say. */
  fluids: z.nullable(z.array(z.enum(FLUID_TYPES))),
  /** For an aeroplane that nobody has looked at, with fuel whose temperature nobody knows. */
  treatment: z.object({
    need: needSchema,
    reasons: z.array(z.string()),
    steps: z.array(z.string()),
  }),
  /** Tables that operators have loaded, of the types and the skin that the profile lists. */
  tables: z.array(z.object({ operator: z.string(), table: holdoverTableSchema })),
  /** One a table and mix. */
  holdover: z.array(z.object({ tableIndex: z.int(), mix: z.enum(MIXES), outcome: holdoverOutcomeSchema })),
  cautions: z.array(z.string()),
});
export type GroundAnswer = z.infer<typeof groundSchema>;
