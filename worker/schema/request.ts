/** What a brief is asked with. */
import * as z from 'zod/mini';
import { aircraftSchema } from './aircraft.ts';

const latDeg = z.number().check(z.gte(-90), z.lte(90));
const lonDeg = z.number().check(z.gte(-180), z.lte(180));
const altitudeFt = z.number().check(z.gte(-1000), z.lte(60000));

/** Date.parse takes 30 February for 2 March and 24:00 for the next day; the pilot would get another day's brief. */
function isOfCalendar(text: string): boolean {
  const instantMs = Date.parse(text);
  return Number.isFinite(instantMs) && new Date(instantMs).toISOString().startsWith(text.slice(0, 16));
}

/** ISO 8601 instant in UTC, ending in Z. */
export const instantSchema = z
  .string()
  .check(
    z.regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,3})?)?Z$/),
    z.refine(isOfCalendar, 'a date and time of the calendar'),
  );

export const lineStringSchema = z.object({
  type: z.literal('LineString'),
  coordinates: z
    .array(z.union([z.tuple([lonDeg, latDeg]), z.tuple([lonDeg, latDeg, z.number()])]))
    .check(z.minLength(2), z.maxLength(200)),
});

/** Members that RFC 7946 allows beside these are read past. */
const lineFeatureSchema = z.object({ type: z.literal('Feature'), geometry: lineStringSchema });
const otherFeatureSchema = z.object({
  type: z.literal('Feature'),
  geometry: z.nullable(
    z.object({ type: z.enum(['Point', 'MultiPoint', 'MultiLineString', 'Polygon', 'MultiPolygon']) }),
  ),
});
const featureSchema = z.union([lineFeatureSchema, otherFeatureSchema]);

/** Exactly one LineString; the brief says which rule a collection breaks that holds another number. */
const lineCollectionSchema = z.object({
  type: z.literal('FeatureCollection'),
  features: z.array(featureSchema).check(z.minLength(1), z.maxLength(200)),
});

const LONGEST_ROUTE_TEXT = 2000;
const LONGEST_GPX = 200_000;

/** GPX is XML: it begins with an angle bracket, which no route text does. */
export function isGpx(text: string): boolean {
  return /^\ufeff?\s*</.test(text);
}

const routeTextSchema = z.string().check(
  z.minLength(1),
  z.maxLength(LONGEST_GPX),
  z.refine(
    (text) => text.length <= LONGEST_ROUTE_TEXT || isGpx(text),
    `at most ${LONGEST_ROUTE_TEXT} characters of route text`,
  ),
);

export const minimumAltitudeSchema = z.strictObject({
  fromNm: z.number().check(z.gte(0), z.lte(5000)),
  toNm: z.number().check(z.gte(0), z.lte(5000)),
  altitudeFt,
});

/** The aeroplane must be at this altitude or higher over a place of the route: so far along it, or a fix of it. */
export const minimumCrossingSchema = z
  .strictObject({
    atNm: z.optional(z.number().check(z.gte(0), z.lte(5000))),
    fix: z.optional(z.string().check(z.minLength(1), z.maxLength(20))),
    altitudeFt,
  })
  .check(z.refine(({ atNm, fix }) => (atNm === undefined) !== (fix === undefined), 'either atNm or fix'));

const minimumAltitudesSchema = z.array(minimumAltitudeSchema).check(z.maxLength(50));
const minimumCrossingsSchema = z.array(minimumCrossingSchema).check(z.maxLength(20));

const minutes = z.number().check(z.gte(0), z.lte(240));

/** What is planned for beyond the trip. */
export const plannedSchema = z.strictObject({
  earlyDescentMinutes: z.optional(minutes),
  vectorsMinutes: z.optional(minutes),
  approachMinutes: z.optional(minutes),
  holdMinutes: z.optional(minutes),
  approachAltitudeFt: z.optional(altitudeFt),
  holdAltitudeFt: z.optional(altitudeFt),
});

/** Few droplets form over the sea, and grow large: see the droplet file of the physics. */
export const airMassSchema = z.enum(['continental', 'maritime']);

/** Text in the flight-plan manner, GPX text, or GeoJSON with one LineString. */
export const routeSchema = z.union([
  routeTextSchema,
  lineStringSchema,
  lineFeatureSchema,
  lineCollectionSchema,
]);
export const departureSchema = z.strictObject({ atUtc: instantSchema });
export const aircraftChoiceSchema = z.union([
  z.string().check(z.minLength(1), z.maxLength(60)),
  aircraftSchema,
]);

export const MOST_LATER_DEPARTURES = 6;
export const MOST_OTHER_ROUTES = 4;

export const briefOptionsSchema = z.strictObject({
  corridorHalfWidthNm: z.optional(z.number().check(z.gte(0.1), z.lte(50))),
  /** Candidate altitudes, ft indicated; default every 1,000 ft. */
  altitudesFt: z.optional(z.array(altitudeFt).check(z.minLength(1), z.maxLength(60))),
  /** Consider this altitude alone. */
  fixedAltitudeFt: z.optional(altitudeFt),
  /** Published minimum altitudes along the leg, ft indicated. */
  minimumAltitudes: z.optional(minimumAltitudesSchema),
  minimumCrossings: z.optional(minimumCrossingsSchema),
  planned: z.optional(plannedSchema),
  /** For performance tables by weight. */
  takeoffWeightKg: z.optional(z.number().check(z.gt(0), z.lte(600000))),
  directionRule: z.optional(z.enum(['faa-91-179', 'icao-annex-2'])),
  oxygenRule: z.optional(z.enum(['faa-135-89', 'faa-91-211'])),
  fluidOnBoardL: z.optional(z.number().check(z.gte(0), z.lte(1000))),
  altimeterSettingHPa: z.optional(z.number().check(z.gte(850), z.lte(1085))),
  /** Where the cloud's air comes from, for the number of its droplets; default continental. */
  airMass: z.optional(airMassSchema),
  curtain: z.optional(z.boolean()),
  /** The same choice for so many departures, 1, 2, ... h later; default 3. */
  laterDepartures: z.optional(z.int().check(z.gte(0), z.lte(MOST_LATER_DEPARTURES))),
  /** Other ways round between the same two places, each with the minima that hold along it. */
  otherRoutes: z.optional(
    z
      .array(
        z.union([
          z.strictObject({
            route: routeSchema,
            minimumAltitudes: z.optional(minimumAltitudesSchema),
            minimumCrossings: z.optional(minimumCrossingsSchema),
          }),
          routeSchema,
        ]),
      )
      .check(z.maxLength(MOST_OTHER_ROUTES)),
  ),
  /** Identifier of the aerodrome to go to from the destination. */
  alternate: z.optional(z.string().check(z.minLength(1), z.maxLength(10))),
});

export const briefRequestSchema = z.strictObject({
  route: routeSchema,
  departure: departureSchema,
  aircraft: aircraftChoiceSchema,
  options: z.optional(briefOptionsSchema),
});

export type BriefRequest = z.infer<typeof briefRequestSchema>;
export type BriefOptions = z.infer<typeof briefOptionsSchema>;
export type MinimumAltitude = z.infer<typeof minimumAltitudeSchema>;
