/** What one candidate altitude or profile is answered with: what it meets, how the fluid goes, which ways out there are. */
import * as z from 'zod/mini';
import { intensitySchema, largeDropsSchema } from './cell-words.ts';
import { spreadSchema, standingCodes, verdictCodeSchema } from './choice-words.ts';

/** A sentence made of numbers, with the numbers beside it. */
export const reasonSchema = z.object({
  code: z.string(),
  sentence: z.string(),
  numbers: z.record(z.string(), z.union([z.number(), z.string()])),
});
export type Reason = z.infer<typeof reasonSchema>;

export const flightParts = [
  'taxi',
  'climb',
  'cruise',
  'descent',
  'early-descent',
  'vectors',
  'approach',
  'hold',
  'alternate',
] as const;

export const partSchema = z.object({
  part: z.enum(flightParts),
  /** null for a part with many. */
  altitudeFt: z.nullable(z.number()),
  minutes: z.number(),
  unknownMinutes: z.number(),
  icingMinutes: spreadSchema,
  visibleMoistureBelowFreezingMinutes: spreadSchema,
  builtMm: spreadSchema,
  /** Flow alone; null without a fluid system. */
  fluidL: z.nullable(spreadSchema),
  /** On the unprotected wing while in ice, of the draws that meet any; null where none does. */
  growthMmPerMin: z.nullable(spreadSchema),
  /** The same of the water caught there: near 0 °C little of it freezes. */
  catchGPerM2S: z.nullable(spreadSchema),
  /** Where ice is possible, and in what air on average; null where it is nowhere. */
  ice: z.nullable(
    z.object({
      lowerFt: z.number(),
      upperFt: z.number(),
      /** null for a part that stays over one place. */
      alongNm: z.nullable(z.tuple([z.number(), z.number()])),
      temperatureC: z.number(),
      pressureHPa: z.number(),
      /** That the growth was worked out with. */
      trueAirspeedKt: z.number(),
      /** Named large drops: they catch otherwise, and are left at their first sign. */
      hasLargeDrops: z.boolean(),
    }),
  ),
  /** What is reported or warned of on it. */
  reported: z.array(z.string()),
});
export type PartAnswer = z.infer<typeof partSchema>;

export const exposureSchema = z.object({
  timeMinutes: z.number(),
  climbMinutes: z.number(),
  descentMinutes: z.number(),
  unknownMinutes: z.number(),
  icingMinutes: spreadSchema,
  /** Part of the draws that meet any ice in known air, per cent; null without known air. */
  iceChancePct: z.nullable(z.number()),
  /** Mean over the draws. */
  expectedIcingMinutes: z.number(),
  /** At each intensity or worse, each with estimates of its own. */
  intensityMinutes: z.object({
    trace: spreadSchema,
    light: spreadSchema,
    moderate: spreadSchema,
    severe: spreadSchema,
  }),
  /** In known air; null without any. */
  worstIntensity: z.nullable(intensitySchema),
  largeDropMinutes: z.number(),
  worstLargeDrops: largeDropsSchema,
  /** Part of the draws that meet supercooled large drops anywhere in known air, named or not, per cent. */
  largeDropChancePct: z.number(),
  visibleMoistureBelowFreezingMinutes: spreadSchema,
  builtMm: spreadSchema,
  /** null without a fluid system. */
  fluidL: z.nullable(spreadSchema),
  fuelKg: z.number(),
  headwindKt: z.nullable(z.number()),
  /** Time flown as in still air, since the wind is not known there: time and fuel may be more or less. */
  windUnknownMinutes: z.number(),
  trueAirspeedKt: z.number(),
  /** Mean on the cruise, of the still air and as the gauge shows it at that airspeed (limits: temperatureRecoveryRatio). */
  staticTemperatureC: z.nullable(z.number()),
  gaugeTemperatureC: z.nullable(z.number()),
  greatestEnvelopeRatio: z.number(),
  /** Least indicated airspeed level in expected ice, at the high estimate of built ice; null without such ice. */
  leastIcingAirspeedKt: z.nullable(z.number()),
  /** Taken from the tank by the trip, priming included; null without a fluid system. */
  fluidTripL: z.nullable(spreadSchema),
  /** On unprotected parts after everything planned for. */
  builtAtLandingMm: spreadSchema,
  /** Every part of the flight by itself, those that are planned for beyond the trip included. */
  parts: z.array(partSchema),
});
export type ExposureAnswer = z.infer<typeof exposureSchema>;

export const wayCodes = ['not-needed', 'stay', 'up', 'down', 'back', 'aerodrome', 'none', 'unknown'] as const;

/** One entry a route point in each. */
export const waysSchema = z.object({
  way: z.array(z.enum(wayCodes)),
  toAltitudeFt: z.array(z.nullable(z.number())),
  /** Until out of the ice, and ice gathered on unprotected parts until then; null without a way. */
  minutes: z.array(z.nullable(z.number())),
  builtMm: z.array(z.nullable(z.number())),
  aerodrome: z.array(z.nullable(z.string())),
});
export type WaysAnswer = z.infer<typeof waysSchema>;

/** How the fluid goes along one profile. */
export const fluidPlanSchema = z.object({
  /** All of it but priming and reserve, at either setting; null when the quantity on board is not given. */
  enduranceNormalMinutes: z.nullable(z.number()),
  enduranceHighMinutes: z.nullable(z.number()),
  /** Where the tank is empty with the fluid on wherever it is asked for; null where it lasts. */
  runsOutNm: z.nullable(z.number()),
  /** Where to have it on: from before the entry to after the exit. */
  on: z.array(z.object({ fromNm: z.number(), toNm: z.number(), setting: z.enum(['normal', 'high']) })),
  weightKg: z.nullable(z.number()),
  /** Timed bursts at the greatest flow in what is to spare. */
  bursts: z.nullable(z.number()),
});
export type FluidPlanAnswer = z.infer<typeof fluidPlanSchema>;

/** The protection fails where leaving the ice costs most: what gathers on protected parts until then. */
export const failureSchema = z.object({
  distanceNm: z.number(),
  builtMm: z.number(),
  minutes: z.number(),
  way: z.enum(wayCodes),
});

export const candidateSchema = z.object({
  altitudeFt: z.number(),
  /** One entry for a single altitude; of a stepped profile altitudeFt is the highest. */
  profile: z.array(z.object({ fromNm: z.number(), altitudeFt: z.number() })),
  /** What is to be said of it in at most ten words. */
  inWords: z.string(),
  /** By the rule that limits names, on the magnetic course: right-way, or to be asked for. */
  direction: z.enum(['right-way', 'ask']),
  /** Truly under a minimum altitude of the leg, since the air is colder than standard. */
  isUnderColdMinimum: z.boolean(),
  standing: z.enum(standingCodes),
  verdict: verdictCodeSchema,
  /** null for an altitude that cannot be flown. */
  exposure: z.nullable(exposureSchema),
  /** Altitude over each route point, climb and descent included; null for one that cannot be flown. */
  flownFt: z.nullable(z.array(z.number())),
  /** null for an altitude that cannot be flown, all three; the plan also without a fluid system. */
  ways: z.nullable(waysSchema),
  fluidPlan: z.nullable(fluidPlanSchema),
  failure: z.nullable(failureSchema),
  /** Place in the ranking, 1 best; null when not ranked. */
  rank: z.nullable(z.number()),
  /** Why it lost, or why it won. */
  reasons: z.array(reasonSchema),
});
export type Candidate = z.infer<typeof candidateSchema>;
