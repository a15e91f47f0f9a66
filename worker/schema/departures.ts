/** The same choice for later departures and for other ways, in the compact figures that a panel or a table shows. */
import * as z from 'zod/mini';
import { spreadSchema, standingCodes, verdictCodeSchema } from './choice-words.ts';

const verdictSchema = z.object({ code: verdictCodeSchema, sentence: z.string() });

export const laterDepartureSchema = z.object({
  departureUtc: z.string(),
  verdict: verdictSchema,
  recommendedAltitudeFt: z.nullable(z.number()),
  /** Levels of the recommended profile, each from where it is left for: one for a single altitude; null where none is recommended. */
  profile: z.nullable(z.array(z.object({ fromNm: z.number(), altitudeFt: z.number() }))),
  /** What the data lacks at this departure, on the way to the alternate too, in sentences; empty for whole data. */
  lacks: z.array(z.string()),
  /** Highest altitude first, the altitudes of `alternatives`. */
  byAltitude: z.array(
    z.object({
      altitudeFt: z.number(),
      verdict: verdictCodeSchema,
      /** In known air; null without any, and for an altitude that cannot be flown. */
      icingMinutes: z.nullable(spreadSchema),
      /** null for an altitude that cannot be flown. */
      unknownMinutes: z.nullable(z.number()),
      /** null without a fluid system, and for an altitude that cannot be flown. */
      fluidL: z.nullable(spreadSchema),
      standing: z.enum(standingCodes),
    }),
  ),
});
export type LaterDeparture = z.infer<typeof laterDepartureSchema>;

/** Figures are those of the way's recommended altitude, else of the least bad one; null where there is none. */
export const waySchema = z.object({
  kind: z.enum(['route', 'wait', 'cancel']),
  id: z.string(),
  routeText: z.nullable(z.string()),
  distanceNm: z.nullable(z.number()),
  departureUtc: z.nullable(z.string()),
  arrivalUtc: z.nullable(z.string()),
  /** null where waiting gains nothing, and for not going. */
  verdict: z.nullable(verdictCodeSchema),
  altitudeFt: z.nullable(z.number()),
  icingMinutes: z.nullable(spreadSchema),
  unknownMinutes: z.nullable(z.number()),
  builtMm: z.nullable(spreadSchema),
  fluidL: z.nullable(spreadSchema),
  timeMinutes: z.nullable(z.number()),
  fuelKg: z.nullable(z.number()),
  /** Of a way with a departure, with what its data lacks at the end. */
  sentence: z.string(),
  /** Exactly one row; not going only when no other is within limits. */
  isBest: z.boolean(),
});
export type Way = z.infer<typeof waySchema>;
