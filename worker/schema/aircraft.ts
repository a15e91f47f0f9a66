/**
 * Aircraft profile at the HTTP edge: feet, knots, liters, kilograms, named in every field. Members that may be left out are
 * taken from AIRCRAFT_DEFAULTS, and the brief names each that was.
 */
import * as z from 'zod/mini';
import { FLUID_TYPES, WING_SKINS } from './ground-words.ts';

const pressureAltitudeFt = z.number().check(z.gte(-2000), z.lte(60000));
const positive = (most: number) => z.number().check(z.gt(0), z.lte(most));
const upTo = (most: number) => z.number().check(z.gte(0), z.lte(most));
const weightKg = positive(600000);

/** Rows in ascending altitude; with a weight in every row, the rows of each weight one after the other, lightest first. */
const performanceTable = z
  .array(z.strictObject({ weightKg: z.optional(weightKg), pressureAltitudeFt, value: positive(100000) }))
  .check(z.minLength(1), z.maxLength(80));

const note = z.string().check(z.maxLength(160));

export const protectionSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('fluid'),
    usableL: positive(1000),
    minimumDispatchL: upTo(1000),
    normalFlowLPerMin: positive(50),
    highFlowLPerMin: positive(50),
    primingL: upTo(100),
    reserveMinutes: upTo(240),
    /** A burst at the greatest flow, and how long it is timed for. */
    maximumFlowLPerMin: z.optional(positive(100)),
    maximumBurstS: z.optional(positive(600)),
    /** One clearing of the windshield on the approach. */
    windshieldL: z.optional(upTo(20)),
    densityKgPerL: z.optional(z.number().check(z.gte(0.8), z.lte(1.5))),
  }),
  z.strictObject({
    kind: z.literal('boots'),
    cycleS: z.optional(positive(600)),
    /** Ice to let build before a cycle. */
    minimumThicknessMm: z.optional(upTo(50)),
  }),
  z.strictObject({ kind: z.literal('none') }),
]);

export const OXYGEN_KINDS = ['none', 'on-board', 'pressurized'] as const;

/** Every number comes from the operator's flight manual; the built-in profiles are invented. */
export const aircraftSchema = z.strictObject({
  id: z.string().check(z.regex(/^[a-z0-9-]{1,60}$/)),
  name: z.string().check(z.minLength(1), z.maxLength(80)),
  /** Weight at take-off, for tables by weight. */
  weightKg: z.optional(weightKg),
  trueAirspeedKt: performanceTable,
  climbRateFtPerMin: performanceTable,
  /** One number, or a table. */
  descentRateFtPerMin: z.union([positive(10000), performanceTable]),
  climbTrueAirspeedKt: positive(700),
  descentTrueAirspeedKt: positive(700),
  fuelFlowKgPerH: performanceTable,
  ceilingFt: positive(60000),
  /** Highest pressure altitude that can be held with ice on the unprotected parts. */
  icedCeilingFt: z.optional(positive(60000)),
  certifiedForIcing: z.boolean(),
  /** Indicated; null when the flight manual gives none. */
  minimumIcingAirspeedKt: z.optional(z.nullable(positive(400))),
  /** Lost for each millimeter of ice on unprotected parts, per cent. */
  iceLoss: z.optional(
    z.strictObject({
      airspeedPctPerMm: upTo(20),
      climbRatePctPerMm: upTo(50),
      fuelFlowGainPctPerMm: upTo(20),
    }),
  ),
  /** What the engine's inlet separator costs while it is on, per cent; null for an engine without. */
  inletSeparator: z.optional(
    z.nullable(
      z.strictObject({
        airspeedLossPct: upTo(50),
        climbRateLossPct: upTo(90),
        fuelFlowGainPct: upTo(100),
      }),
    ),
  ),
  wingNoseRadiusMm: positive(500),
  rodRadiusMm: positive(500),
  temperatureRecoveryRatio: z.number().check(z.gte(0), z.lte(1)),
  oxygen: z.optional(z.enum(OXYGEN_KINDS)),
  /** Types of ground fluid that the flight manual lists; left out: not given. */
  groundFluids: z.optional(z.array(z.enum(FLUID_TYPES)).check(z.maxLength(4))),
  /** Of the wing, for holdover tables by skin; left out: not given. */
  wingSkin: z.optional(z.enum(WING_SKINS)),
  /** Landing with ice left on the unprotected parts. */
  landingWithIce: z.optional(z.strictObject({ flapNote: note, landingDistanceGainPct: upTo(300) })),
  protection: protectionSchema,
});

export type AircraftProfile = z.infer<typeof aircraftSchema>;

/** GET /api/aircraft: the built-in profiles, all invented. */
export const aircraftListSchema = z.object({ note: z.string(), aircraft: z.array(aircraftSchema) });
