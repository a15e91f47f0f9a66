/**
 * The brief: one GeoJSON FeatureCollection (RFC 7946) that map, cross-section, table and API users all draw from.
 * Every altitude in `...Ft` is indicated altitude on the altimeter setting that `limits` names.
 */
import * as z from 'zod/mini';

export const verdictCodes = ['no-ice-found', 'within-limits', 'outside-limits', 'unknown'] as const;
export const verdictCodeSchema = z.enum(verdictCodes);
export type VerdictCode = z.infer<typeof verdictCodeSchema>;

const intensitySchema = z.enum(['none', 'trace', 'light', 'moderate', 'severe']);
const iceKindSchema = z.enum(['none', 'rime', 'mixed', 'clear']);
const largeDropsSchema = z.enum(['none', 'freezing-drizzle', 'freezing-rain', 'ice-pellets']);
export const cellStateSchema = z.enum([
  'known',
  'no-data',
  'too-old',
  'outside-coverage',
  'outside-profile',
  'quantity-missing',
  'decode-failed',
  'below-ground',
]);

export const spreadSchema = z.object({
  low: z.number(),
  middle: z.number(),
  high: z.number(),
});
export type SpreadAnswer = z.infer<typeof spreadSchema>;

/** A sentence made of numbers, with the numbers beside it. */
export const reasonSchema = z.object({
  code: z.string(),
  sentence: z.string(),
  numbers: z.record(z.string(), z.union([z.number(), z.string()])),
});
export type Reason = z.infer<typeof reasonSchema>;

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
  trueAirspeedKt: z.number(),
  staticTemperatureC: z.nullable(z.number()),
  gaugeTemperatureC: z.nullable(z.number()),
  greatestEnvelopeRatio: z.number(),
});
export type ExposureAnswer = z.infer<typeof exposureSchema>;

export const standingCodes = [
  'recommended',
  'acceptable',
  'outside-limits',
  'unknown',
  'below-minimum-altitude',
  'above-ceiling',
  'leg-too-short',
] as const;

export const candidateSchema = z.object({
  altitudeFt: z.number(),
  /** By 14 CFR 91.179 on the magnetic course: right-way, or to be asked for. */
  direction: z.enum(['right-way', 'ask']),
  standing: z.enum(standingCodes),
  verdict: verdictCodeSchema,
  /** null for an altitude that cannot be flown. */
  exposure: z.nullable(exposureSchema),
  /** Place in the ranking, 1 best; null when not ranked. */
  rank: z.nullable(z.number()),
  /** Why it lost, or why it won. */
  reasons: z.array(reasonSchema),
});
export type Candidate = z.infer<typeof candidateSchema>;

export const wayOutSchema = z.object({
  distanceNm: z.number(),
  /** The nearest way out at the recommended altitude; not-needed where no ice is near. */
  way: z.enum(['not-needed', 'up', 'down', 'back', 'none', 'unknown']),
  toAltitudeFt: z.nullable(z.number()),
});

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
      values: z.array(z.nullable(z.number())),
    }),
  ),
  /** Index into stateWords, [point][cell]. */
  state: z.array(z.number()),
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
      /** At most ten words. */
      reason: z.string(),
      refuse: z.array(z.object({ altitudeFt: z.number(), reason: z.string() })),
    }),
  ),
  recommended: z.nullable(candidateSchema),
  /** Every candidate, the recommended one included, highest altitude first. */
  alternatives: z.array(candidateSchema),
  limits: z.object({
    aircraftId: z.string(),
    aircraftName: z.string(),
    ceilingFt: z.number(),
    certifiedForIcing: z.boolean(),
    altimeterSettingHPa: z.number(),
    corridorHalfWidthNm: z.number(),
    directionRule: z.string(),
    minimumAltitudeSource: z.enum(['entered', 'spot-heights', 'partly-unknown', 'unknown']),
    fluidOnBoardL: z.nullable(z.number()),
  }),
  fluid: z.nullable(
    z.object({
      onBoardL: z.number(),
      neededL: spreadSchema,
      minimumDispatchL: z.number(),
      coversHighEstimate: z.boolean(),
    }),
  ),
  waysOut: z.array(wayOutSchema),
  cues: z.array(reasonSchema),
  /** Ground treatment is not assessed: null, and a caution says so. */
  ground: z.null(),
  curtain: z.optional(curtainSchema),
  data: z.array(dataUsedSchema),
  method: z.object({
    version: z.string(),
    settings: z.record(z.string(), z.union([z.number(), z.string()])),
  }),
  staleAtUtc: z.nullable(z.string()),
  cautions: z.array(z.string()),
});
export type BriefMember = z.infer<typeof briefMemberSchema>;

/* ---- features ---- */

const position = z.array(z.number()).check(z.minLength(2), z.maxLength(3));
const lineGeometry = z.union([
  z.object({ type: z.literal('LineString'), coordinates: z.array(position) }),
  z.object({
    type: z.literal('MultiLineString'),
    coordinates: z.array(z.array(position)),
  }),
]);
const polygonGeometry = z.union([
  z.object({
    type: z.literal('Polygon'),
    coordinates: z.array(z.array(position)),
  }),
  z.object({
    type: z.literal('MultiPolygon'),
    coordinates: z.array(z.array(z.array(position))),
  }),
]);
const pointGeometry = z.object({
  type: z.literal('Point'),
  coordinates: position,
});

const feature = <G extends z.core.$ZodType, P extends z.core.$ZodType>(geometry: G, properties: P) =>
  z.object({
    type: z.literal('Feature'),
    id: z.string(),
    geometry,
    properties,
  });

export const routeFeatureSchema = feature(
  lineGeometry,
  z.object({ kind: z.literal('route'), distanceNm: z.number() }),
);
export const corridorFeatureSchema = feature(
  polygonGeometry,
  z.object({ kind: z.literal('corridor'), halfWidthNm: z.number() }),
);
/** The bands tile the curtain: no gaps, no overlaps, unknown and ice-free cells included. */
export const bandFeatureSchema = feature(
  polygonGeometry,
  z.object({
    kind: z.literal('icing-band'),
    fromNm: z.number(),
    toNm: z.number(),
    lowerFt: z.number(),
    upperFt: z.number(),
    state: cellStateSchema,
    /** The rest is null unless state is known. Amounts are the greatest in the band, given liquid. */
    intensity: z.nullable(intensitySchema),
    iceKind: z.nullable(iceKindSchema),
    /** Greatest probability of supercooled liquid in the band, 0-1. */
    probability: z.nullable(z.number()),
    growthMmPerMin: z.nullable(z.number()),
    largeDrops: z.nullable(largeDropsSchema),
    envelopeRatio: z.nullable(z.number()),
  }),
);
export const freezingLevelFeatureSchema = feature(
  lineGeometry,
  z.object({
    kind: z.literal('freezing-level'),
    /** 1 is the lowest crossing. */
    crossing: z.number(),
    /** Pairs of distance and altitude along the line. */
    distanceNm: z.array(z.number()),
    altitudeFt: z.array(z.number()),
  }),
);
export const cloudBandFeatureSchema = feature(
  polygonGeometry,
  z.object({
    kind: z.literal('cloud-band'),
    fromNm: z.number(),
    toNm: z.number(),
    lowerFt: z.number(),
    upperFt: z.number(),
    probability: z.number(),
  }),
);
export const terrainFeatureSchema = feature(
  lineGeometry,
  z.object({
    kind: z.literal('terrain'),
    fromNm: z.number(),
    toNm: z.number(),
    heightFt: z.number(),
  }),
);
export const minimumAltitudeFeatureSchema = feature(
  lineGeometry,
  z.object({
    kind: z.literal('minimum-altitude'),
    fromNm: z.number(),
    toNm: z.number(),
    altitudeFt: z.nullable(z.number()),
    source: z.enum(['entered', 'spot-heights', 'unknown']),
  }),
);
export const sourceFeatureSchema = feature(
  pointGeometry,
  z.object({
    kind: z.literal('source'),
    dataId: z.string(),
    name: z.string(),
    validUtc: z.string(),
    distanceNm: z.number(),
  }),
);

const hazardProperties = {
  /** null for the notice that some reports could not be read. */
  reportKind: z.nullable(z.enum(['metar', 'speci', 'taf', 'sigmet', 'airmet', 'pirep', 'airep'])),
  /** large-drops: freezing rain, freezing drizzle, ice pellets. */
  severity: z.enum(['unstated', 'moderate', 'severe', 'large-drops']),
  sentence: z.string(),
  validFromUtc: z.string(),
  validToUtc: z.string(),
  issuedUtc: z.string(),
  /** The stretch of the leg where it holds. */
  fromNm: z.number(),
  toNm: z.number(),
  /** null where no edge is stated: it may go on. */
  lowerFt: z.nullable(z.number()),
  upperFt: z.nullable(z.number()),
};
/** Of an aerodrome or a pilot; without geometry where nobody knows its place. */
export const reportFeatureSchema = feature(
  z.nullable(pointGeometry),
  z.object({ kind: z.literal('report'), ...hazardProperties }),
);
/** Without geometry where nobody knows its area, or where that ends. */
export const warningFeatureSchema = feature(
  z.nullable(polygonGeometry),
  z.object({ kind: z.literal('warning'), ...hazardProperties }),
);

export const briefFeatureSchema = z.union([
  routeFeatureSchema,
  corridorFeatureSchema,
  bandFeatureSchema,
  freezingLevelFeatureSchema,
  cloudBandFeatureSchema,
  terrainFeatureSchema,
  minimumAltitudeFeatureSchema,
  sourceFeatureSchema,
  reportFeatureSchema,
  warningFeatureSchema,
]);
export type BriefFeature = z.infer<typeof briefFeatureSchema>;
export type BandFeature = z.infer<typeof bandFeatureSchema>;

export const briefSchema = z.object({
  type: z.literal('FeatureCollection'),
  bbox: z.array(z.number()),
  brief: briefMemberSchema,
  features: z.array(briefFeatureSchema),
});
export type Brief = z.infer<typeof briefSchema>;

/* ---- problem answers, RFC 9457 ---- */

export const problemSchema = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number(),
  detail: z.string(),
  /** Path of the offending member, when there is one. */
  field: z.optional(z.string()),
});
export type Problem = z.infer<typeof problemSchema>;
