/** GET /api/places: aerodromes and fixes, found by name or inside a box. */
import * as z from 'zod/mini';

export const placeSchema = z.object({
  ident: z.string(),
  name: z.string(),
  kind: z.enum(['aerodrome', 'fix']),
  latDeg: z.number(),
  lonDeg: z.number(),
  elevationFt: z.nullable(z.number()),
});
export type PlaceAnswer = z.infer<typeof placeSchema>;

export const placesAnswerSchema = z.object({ places: z.array(placeSchema) });

/** Widest and highest box that is answered, degrees. */
export const MOST_BOX_DEG = { lon: 30, lat: 20 } as const;

const NUMBERS = /^-?\d{1,3}(\.\d{1,6})?(,-?\d{1,3}(\.\d{1,6})?){3}$/;

/** "west,south,east,north" in degrees; over the antimeridian west is greater than east. */
export const boxSchema = z.pipe(
  z.pipe(
    z.string().check(z.regex(NUMBERS)),
    z.transform((text) => text.split(',').map(Number)),
  ),
  z
    .tuple([z.number(), z.number(), z.number(), z.number()])
    .check(
      z.refine(
        ([west, south, east, north]) =>
          Math.max(Math.abs(west), Math.abs(east)) <= 180 && south >= -90 && south <= north && north <= 90,
        'west,south,east,north in degrees, south below north',
      ),
    ),
);

export const placesQuerySchema = z.object({
  /** Part of an identifier or name. */
  q: z.optional(z.string()),
  /** Aerodromes inside it, in the place of a text. */
  box: z.optional(
    boxSchema.check(
      z.refine(
        ([west, south, east, north]) =>
          widthDeg(west, east) <= MOST_BOX_DEG.lon && north - south <= MOST_BOX_DEG.lat,
        `a box of at most ${MOST_BOX_DEG.lon} by ${MOST_BOX_DEG.lat} degrees`,
      ),
    ),
  ),
});

/** From west to east, over the antimeridian too. */
export function widthDeg(west: number, east: number): number {
  return east >= west ? east - west : east - west + 360;
}
