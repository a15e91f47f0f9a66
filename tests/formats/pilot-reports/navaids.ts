/** A lookup of fixes over files of radio aids and aerodromes (OurAirports columns). */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { csvParse } from 'd3-dsv';
import type { FixLookup, FixPlace } from '../../../worker/formats/pilot-reports/fix-places.ts';
import { mFromNm } from '../../../worker/science/units.ts';

/** Holds Alaska, the contiguous United States and southern Canada, and nothing of the other continents. */
export const NORTH_AMERICA = { latDeg: 47, lonDeg: -110, radiusM: mFromNm(2200) };

/** @param folder  holds navaids.csv and airports-medium-large.csv; an aid's name goes before an aerodrome's. */
export function fixesOf(folder: string): FixLookup {
  const places = new Map<string, FixPlace[]>();
  const add = (ident: string, place: FixPlace) => places.set(ident, [...(places.get(ident) ?? []), place]);
  for (const row of csvParse(readFileSync(join(folder, 'navaids.csv'), 'utf8'))) {
    const variation = row.slaved_variation_deg || row.magnetic_variation_deg;
    add(row.ident!, {
      latDeg: Number(row.latitude_deg),
      lonDeg: Number(row.longitude_deg),
      variationEastDeg: variation ? Number(variation) : undefined,
    });
  }
  const aids = new Set(places.keys());
  for (const row of csvParse(readFileSync(join(folder, 'airports-medium-large.csv'), 'utf8'))) {
    if (aids.has(row.ident!)) continue;
    add(row.ident!, { latDeg: Number(row.latitude_deg), lonDeg: Number(row.longitude_deg) });
  }
  return (identifier) => places.get(identifier) ?? [];
}
