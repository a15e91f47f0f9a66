/** POST /api/column: one column of air in, the whole diagnosis out, for experts who want to check it. */
import * as z from 'zod/mini';
import { aircraftSchema } from './aircraft.ts';
import { cellStateSchema, iceKindSchema, intensitySchema, largeDropsSchema } from './cell-words.ts';
import { airMassSchema } from './request.ts';

const levelSchema = z
  .strictObject({
    pressureHPa: z.number().check(z.gte(50), z.lte(1100)),
    heightM: z.optional(z.number().check(z.gte(-500), z.lte(40000))),
    temperatureC: z.number().check(z.gte(-100), z.lte(60)),
    dewPointC: z.optional(z.number().check(z.gte(-120), z.lte(60))),
    relativeHumidityPct: z.optional(z.number().check(z.gte(0), z.lte(150))),
    cloudWaterGPerKg: z.optional(z.number().check(z.gte(0), z.lte(20))),
    /** Cloud fraction of the grid box the water is a mean of, 0-1. */
    cloudFraction: z.optional(z.number().check(z.gte(0), z.lte(1))),
    verticalVelocityPaPerS: z.optional(z.number().check(z.gte(-100), z.lte(100))),
    windDirectionDeg: z.optional(z.number().check(z.gte(0), z.lte(360))),
    windSpeedKt: z.optional(z.number().check(z.gte(0), z.lte(300))),
  })
  .check(
    z.refine(
      (level) => (level.dewPointC === undefined) !== (level.relativeHumidityPct === undefined),
      'exactly one of dewPointC and relativeHumidityPct is needed',
    ),
  );

export const columnRequestSchema = z.strictObject({
  /** At least two, in any order; pressures must differ. */
  levels: z.array(levelSchema).check(z.minLength(2), z.maxLength(500)),
  aircraft: z.union([z.string().check(z.minLength(1), z.maxLength(60)), aircraftSchema]),
  /** One speed for every level; default the aeroplane's at each level. */
  trueAirspeedKt: z.optional(z.number().check(z.gt(0), z.lte(700))),
  airMass: z.optional(airMassSchema),
});
export type ColumnRequest = z.infer<typeof columnRequestSchema>;

const orNull = z.nullable(z.number());
const orNothing = z.optional(z.number());

/** Members that may be missing are those of air whose state is not `known`. */
const levelAnswerSchema = z.object({
  pressureHPa: z.number(),
  pressureAltitudeFt: z.number(),
  temperatureC: z.number(),
  relativeHumidityWaterPct: z.number(),
  relativeHumidityIcePct: orNull,
  frostPointC: orNull,
  /** null from 0 °C up. */
  iceBulbC: orNull,
  wetBulbC: orNull,
  heightFt: orNull,
  trueAirspeedKt: z.number(),
  state: cellStateSchema,
  cloudProbability: orNothing,
  icingProbability: orNothing,
  liquidWaterGPerM3: orNothing,
  medianVolumeDiameterUm: orNothing,
  collectionEfficiency: orNothing,
  freezingFraction: orNothing,
  growthMmPerMin: orNothing,
  rodGrowthMmPerMin: orNothing,
  intensity: z.optional(intensitySchema),
  iceKind: z.optional(iceKindSchema),
  largeDrops: z.optional(largeDropsSchema),
  largeDropProbability: orNothing,
  envelopeRatio: orNothing,
  /** Only where there is water. */
  rodOverallEfficiency: orNothing,
});

export const columnAnswerSchema = z.object({
  method: z.string(),
  cautions: z.array(z.string()),
  aircraft: z.string(),
  /** Moist layers, highest first. */
  cloudLayers: z.array(
    z.object({
      baseHPa: z.number(),
      topHPa: z.number(),
      topTemperatureC: z.number(),
      adiabaticWaterAtTopGPerM3: orNull,
      /** null under no known layer. */
      gapAboveFt: orNull,
    }),
  ),
  /** Highest pressure first. */
  levels: z.array(levelAnswerSchema),
});
