/** Legs of a network that nobody flies, between real aerodromes, for measurements of a board of any size. */
import { readFileSync } from 'node:fs';
import { projectFolder } from '../../worker/cli/build.ts';
import type { ScheduleLeg } from '../../worker/schema/board.ts';

type Row = readonly [string, string, number, number, number | null];

/** Departures of the day from this minute on, as many minutes long. */
const FIRST_MINUTE = 10 * 60 + 30;
const SPREAD_MINUTES = 240;
const NM_PER_DEG = 60;
const NEAR_NM = 60;
const FAR_NM = 220;

/**
 * @param day  Local day in UTC of all of them, "2011-01-15".
 * @returns so many legs of 60 to 220 NM over the United States, the same at every call.
 */
export function inventedNetwork(count: number, day: string): ScheduleLeg[] {
  const rows = JSON.parse(readFileSync(`${projectFolder}worker/generated/aerodromes.json`, 'utf8')) as Row[];
  const near = rows.filter(
    ([ident, , lat, lon, elevationM]) =>
      /^K[A-Z]{3}$/.test(ident) && lat > 32 && lat < 47 && lon > -105 && lon < -75 && elevationM !== null,
  );
  const legs: ScheduleLeg[] = [];
  for (let at = 0; legs.length < count; at += 1) {
    const from = near[(at * 37) % near.length]!;
    const to = near[(at * 53 + 11 * Math.floor(at / near.length) + 1) % near.length]!;
    const distanceNm = roughNm(from, to);
    if (distanceNm < NEAR_NM || distanceNm > FAR_NM) continue;
    legs.push(inventedLeg(`${from[0]} DCT ${to[0]}`, legs.length, day));
  }
  return legs;
}

function roughNm([, , latA, lonA]: Row, [, , latB, lonB]: Row): number {
  const east = (lonB - lonA) * Math.cos((latA * Math.PI) / 180);
  return NM_PER_DEG * Math.hypot(latB - latA, east);
}

function inventedLeg(route: string, index: number, day: string): ScheduleLeg {
  const minute = FIRST_MINUTE + (index % SPREAD_MINUTES);
  const clock = [Math.floor(minute / 60), minute % 60].map((part) => String(part).padStart(2, '0'));
  return {
    label: String(1000 + index),
    tail: `ZZ-${String(index).padStart(4, '0')}`,
    route,
    weekdays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    departureLocal: clock.join(':'),
    timeZone: 'UTC',
    fromDate: day,
    untilDate: day,
    aircraft: 'generic-fluid-turboprop',
    plannedMinutes: null,
    alternate: null,
    destinationMinima: { ceilingFt: 300, visibilityM: 1200 },
    alternateMinima: null,
  };
}
