/** Aircraft profile at the HTTP edge: feet, knots, litres, kilograms, named in every field. */
import * as z from 'zod/mini';

const altitudeTable = z
  .array(
    z.strictObject({
      pressureAltitudeFt: z.number().check(z.gte(-2000), z.lte(60000)),
      value: z.number().check(z.gt(0), z.lte(100000)),
    }),
  )
  .check(z.minLength(1), z.maxLength(40));

const positive = (most: number) => z.number().check(z.gt(0), z.lte(most));

export const protectionSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('fluid'),
    usableL: positive(1000),
    minimumDispatchL: z.number().check(z.gte(0), z.lte(1000)),
    normalFlowLPerMin: positive(50),
    highFlowLPerMin: positive(50),
    primingL: z.number().check(z.gte(0), z.lte(100)),
    reserveMinutes: z.number().check(z.gte(0), z.lte(240)),
  }),
  z.strictObject({ kind: z.literal('boots') }),
  z.strictObject({ kind: z.literal('none') }),
]);

/** Every number comes from the operator's flight manual; the built-in profiles are invented. */
export const aircraftSchema = z.strictObject({
  id: z.string().check(z.regex(/^[a-z0-9-]{1,60}$/)),
  name: z.string().check(z.minLength(1), z.maxLength(80)),
  trueAirspeedKt: altitudeTable,
  climbRateFtPerMin: altitudeTable,
  descentRateFtPerMin: positive(10000),
  climbTrueAirspeedKt: positive(700),
  descentTrueAirspeedKt: positive(700),
  fuelFlowKgPerH: altitudeTable,
  ceilingFt: positive(60000),
  certifiedForIcing: z.boolean(),
  wingNoseRadiusMm: positive(500),
  rodRadiusMm: positive(500),
  temperatureRecoveryRatio: z.number().check(z.gte(0), z.lte(1)),
  protection: protectionSchema,
});

export type AircraftProfile = z.infer<typeof aircraftSchema>;
