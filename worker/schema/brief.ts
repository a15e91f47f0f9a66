/**
 * The brief: one GeoJSON FeatureCollection (RFC 7946) that map, cross-section, table and API users all draw from.
 * Every altitude in `...Ft` is indicated altitude on the altimeter setting that `limits` names.
 */
import * as z from 'zod/mini';
import { candidateSchema, reasonSchema, wayCodes } from './candidate.ts';
import { cellStateSchema } from './cell-words.ts';
import { spreadSchema, verdictCodeSchema } from './choice-words.ts';
import { laterDepartureSchema, waySchema } from './departures.ts';
import { briefFeatureSchema, minimumSources } from './features.ts';
import { groundSchema } from './ground.ts';

export * from './candidate.ts';
export { cellStateSchema } from './cell-words.ts';
export * from './choice-words.ts';
export * from './departures.ts';
export * from './features.ts';
export * from './problem.ts';

export const wayOutSchema = z.object({
  distanceNm: z.number(),
  /** The way out that costs least on the altitude considered; not-needed where no ice is near. */
  way: z.enum(wayCodes),
  toAltitudeFt: z.nullable(z.number()),
  minutes: z.nullable(z.number()),
  builtMm: z.nullable(z.number()),
  aerodrome: z.nullable(z.string()),
});

/** Tens of thousands of values: looked at in place, where an array of schemas would copy them one by one. */
const valuesSchema = z.custom<(number | null)[]>(
  (value) => Array.isArray(value) && value.every((each) => each === null || typeof each === 'number'),
);
const codesSchema = z.custom<number[]>(
  (value) => Array.isArray(value) && value.every((each) => typeof each === 'number'),
);

export const curtainSchema = z.object({
  pointCount: z.number(),
  cellCount: z.number(),
  distanceNm: z.array(z.number()),
  etaUtc: z.array(z.string()),
  latDeg: z.array(z.number()),
  lonDeg: z.array(z.number()),
  /** Lower edge of the lowest cell and depth of each, ft indicated. */
  lowestFt: z.number(),
  cellDepthFt: z.number(),
  /** Each quantity: whole numbers [point][cell] to be multiplied by `scale`; null where there is no value. */
  quantities: z.record(
    z.string(),
    z.object({
      unit: z.string(),
      scale: z.number(),
      values: valuesSchema,
    }),
  ),
  /** Index into stateWords, [point][cell]. */
  state: codesSchema,
  stateWords: z.array(cellStateSchema),
});
export type CurtainAnswer = z.infer<typeof curtainSchema>;

export const dataUsedSchema = z.object({
  kind: z.enum(['sounding', 'grid']),
  id: z.string(),
  /** Station identifier or model name, in words for people. */
  name: z.string(),
  /** Model run, null for a sounding. */
  runUtc: z.nullable(z.string()),
  validUtc: z.string(),
  /** Greatest difference between the time it is valid for and the time it is used for, minutes. */
  usedUpToMinutes: z.number(),
  /** Least distance from the route, NM; 0 for a grid. */
  nearestNm: z.number(),
  /** Share of the route points that use it, 0-1. */
  share: z.number(),
  /** Where along the route: first and last point of each stretch that uses it, NM from its start. */
  alongNm: z.array(z.tuple([z.number(), z.number()])),
  /** What it does not hold and should, in words; empty for a whole one. */
  lacks: z.array(z.string()),
  invented: z.boolean(),
  attribution: z.string(),
});
export type DataUsed = z.infer<typeof dataUsedSchema>;

export const routePointSchema = z.object({
  distanceNm: z.number(),
  latDeg: z.number(),
  lonDeg: z.number(),
  etaUtc: z.string(),
  fix: z.nullable(z.string()),
  /** Highest known ground within the corridor here, ft true; null where no ground height is known. */
  terrainFt: z.nullable(z.number()),
  /** Minimum altitude that holds here, ft indicated; null where unknown. */
  minimumAltitudeFt: z.nullable(z.number()),
});

export const briefMemberSchema = z.object({
  leg: z.object({
    routeText: z.string(),
    from: z.string(),
    to: z.string(),
    fromName: z.nullable(z.string()),
    toName: z.nullable(z.string()),
    distanceNm: z.number(),
    departureUtc: z.string(),
    magneticCourseDeg: z.number(),
    points: z.array(routePointSchema),
  }),
  verdict: z.object({
    code: verdictCodeSchema,
    sentence: z.string(),
    reasons: z.array(reasonSchema),
  }),
  /** Facts that bear on the leg and are not icing. */
  operational: z.array(reasonSchema),
  file: z.nullable(
    z.object({
      altitudeFt: z.number(),
      acceptFt: z.object({ lowerFt: z.number(), upperFt: z.number() }),
      /** At most ten words, both. */
      reason: z.string(),
      acceptReason: z.string(),
      refuse: z.array(z.object({ altitudeFt: z.number(), reason: z.string() })),
    }),
  ),
  recommended: z.nullable(candidateSchema),
  /** The best profile with a change of altitude, where the change is worth it. */
  stepped: z.nullable(candidateSchema),
  /** What would change the decision. */
  changes: z.array(reasonSchema),
  /** Every candidate, the recommended one included, highest altitude first. */
  alternatives: z.array(candidateSchema),
  /** The same choice for later departures, earliest first. */
  departures: z.array(laterDepartureSchema),
  /** The filed route, the others, waiting, and not going, in this order. */
  ways: z.array(waySchema),
  limits: z.object({
    aircraftId: z.string(),
    aircraftName: z.string(),
    ceilingFt: z.number(),
    certifiedForIcing: z.boolean(),
    altimeterSettingHPa: z.number(),
    corridorHalfWidthNm: z.number(),
    icedCeilingFt: z.number(),
    minimumIcingAirspeedKt: z.nullable(z.number()),
    takeoffWeightKg: z.nullable(z.number()),
    /** Part of the heating by speed that the aeroplane's thermometer shows, 0-1. */
    temperatureRecoveryRatio: z.number(),
    directionRule: z.string(),
    oxygenRule: z.string(),
    /** Beyond the trip. */
    planned: z.object({
      earlyDescentMinutes: z.number(),
      vectorsMinutes: z.number(),
      approachMinutes: z.number(),
      holdMinutes: z.number(),
      approachAltitudeFt: z.number(),
      holdAltitudeFt: z.number(),
      alternate: z.nullable(z.string()),
    }),
    crossings: z.array(z.object({ name: z.string(), distanceNm: z.number(), altitudeFt: z.number() })),
    /** The poorest along the leg. */
    minimumAltitudeSource: z.enum([...minimumSources, 'partly-unknown']),
    /** Of the elevation tiles in use; null where none is. */
    groundAttribution: z.nullable(z.string()),
    fluidOnBoardL: z.nullable(z.number()),
  }),
  fluid: z.nullable(
    z.object({
      onBoardL: z.number(),
      neededL: spreadSchema,
      minimumDispatchL: z.number(),
      /** Kept back, and one clearing of the windshield: in what is needed once any fluid is. */
      reserveL: z.number(),
      windshieldL: z.number(),
      coversHighEstimate: z.boolean(),
    }),
  ),
  waysOut: z.array(wayOutSchema),
  /** What to have on before take-off for the altitude considered, in order; the flight manual's own list comes first. */
  beforeTakeOff: z.array(reasonSchema),
  /** When to leave, whatever was forecast. */
  cues: z.array(reasonSchema),
  ground: groundSchema,
  curtain: z.optional(curtainSchema),
  data: z.array(dataUsedSchema),
  method: z.object({
    version: z.string(),
    settings: z.record(z.string(), z.union([z.number(), z.string()])),
  }),
  /** The first instant at which data in use, on the way to the alternate too, is due to be replaced; null without data. */
  staleAtUtc: z.nullable(z.string()),
  cautions: z.array(z.string()),
});
export type BriefMember = z.infer<typeof briefMemberSchema>;

export const briefSchema = z.object({
  type: z.literal('FeatureCollection'),
  bbox: z.array(z.number()),
  brief: briefMemberSchema,
  features: z.array(briefFeatureSchema),
});
export type Brief = z.infer<typeof briefSchema>;
