/** The features of a brief, each with its `kind`. Every altitude in `...Ft` is as in the brief. */
import * as z from 'zod/mini';
import { cellStateSchema, iceKindSchema, intensitySchema, largeDropsSchema } from './cell-words.ts';

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

const groundSources = ['model-orography', 'spot-heights', 'terrain-tiles'] as const;
export const minimumSources = ['unknown', ...groundSources, 'entered'] as const;

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
    /** model-orography is smoothed: summits stand above it. */
    source: z.enum(groundSources),
  }),
);
export const minimumAltitudeFeatureSchema = feature(
  lineGeometry,
  z.object({
    kind: z.literal('minimum-altitude'),
    fromNm: z.number(),
    toNm: z.number(),
    altitudeFt: z.nullable(z.number()),
    source: z.enum(minimumSources),
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
  z.object({
    kind: z.literal('report'),
    ...hazardProperties,
    /** Least distance of its place from the route; null where the place is not known. */
    fromRouteNm: z.nullable(z.number()),
  }),
);
/** Without geometry where nobody knows its area, or where that ends. */
export const warningFeatureSchema = feature(
  z.nullable(polygonGeometry),
  z.object({ kind: z.literal('warning'), ...hazardProperties }),
);

const saidHeights = z.nullable(z.object({ lowerFt: z.number(), upperFt: z.number() }));
/**
 * What a pilot said beside ice that was met. A fact to be read beside the picture: nothing follows from it, and that no ice was
 * met excludes none. Heights are in ft as the pilot gave them.
 */
export const pilotNoteFeatureSchema = feature(
  z.nullable(pointGeometry),
  z.object({
    kind: z.literal('pilot-note'),
    /** null for the notice that there are more than are listed. */
    reportKind: z.nullable(z.enum(['pirep', 'airep'])),
    /** The pilot says, in so many words, that no ice was met. */
    noIce: z.boolean(),
    /** Layers with a base or a top, the highest first; null where not stated. */
    clouds: z.array(z.object({ base: saidHeights, top: saidHeights })),
    temperatureC: z.nullable(z.number()),
    sentence: z.string(),
    issuedUtc: z.string(),
    /** Least distance of its place from the route; null where the place is not known. */
    fromRouteNm: z.nullable(z.number()),
    /** Of the route, what the place is abeam of; without a place, where it may be. */
    fromNm: z.number(),
    toNm: z.number(),
    /** Between which heights no ice was met, else at which the report was made; null where not stated. */
    lowerFt: z.nullable(z.number()),
    upperFt: z.nullable(z.number()),
  }),
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
  pilotNoteFeatureSchema,
]);
export type BriefFeature = z.infer<typeof briefFeatureSchema>;
export type BandFeature = z.infer<typeof bandFeatureSchema>;
