/** An invented leg between two invented aerodromes, with a deck of ice over it or dry air. */
import type { Sounding } from '../../worker/formats/sounding.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import type { Place } from '../../worker/sources/ports.ts';
import { type AscentLevel, makeAscent } from './make-ascent.ts';

const aerodrome = (ident: string, latDeg: number, lonDeg: number): Place => ({
  ...{ ident, name: `Field ${ident}`, latDeg, lonDeg, elevationM: 100, kind: 'aerodrome' },
});

/** AAAA and BBBB are the ends, CCCC lies beyond BBBB; NNNN is a fix north of the line between them, SSSS one south of it. */
export const FIELDS: readonly Place[] = [
  aerodrome('AAAA', 44.5, -73),
  aerodrome('BBBB', 44.5, -70),
  aerodrome('CCCC', 44.9, -69.2),
  { ...aerodrome('NNNN', 45.3, -71.5), kind: 'fix', elevationM: Number.NaN },
  { ...aerodrome('SSSS', 43.3, -71.5), kind: 'fix', elevationM: Number.NaN },
];

export const NOON_MS = Date.UTC(2026, 0, 14, 12);

/** The trip alone: a hold in the deck would need more fluid than all of it. */
export const NOTHING_PLANNED = {
  earlyDescentMinutes: 0,
  vectorsMinutes: 0,
  approachMinutes: 0,
  holdMinutes: 0,
};

export const LEG: BriefRequest = {
  route: 'AAAA BBBB',
  departure: { atUtc: '2026-01-14T12:00:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: {
    fluidOnBoardL: 70,
    minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 4000 }],
    planned: NOTHING_PLANNED,
  },
};

/** Saturated and a few degrees below freezing from 950 to 600 hPa, dry above. */
export const DECK_AIR: readonly AscentLevel[] = [
  [995, 100, -2, 3, 200, 5],
  [975, 270, -3, 1, 210, 6],
  [950, 480, -3.5, 0, 220, 8],
  [925, 700, -4.2, 0, 230, 10],
  [900, 920, -5, 0, 240, 11],
  [850, 1380, -6.5, 0, 250, 12],
  [800, 1860, -7.5, 0, 250, 13],
  [750, 2370, -8.5, 0, 260, 15],
  [700, 2910, -9.5, 0, 260, 16],
  [650, 3480, -10.5, 0, 260, 18],
  [600, 4100, -11.5, 0, 270, 20],
  [590, 4230, -9, 18, 270, 22],
  [500, 5480, -20, 25, 270, 25],
  [400, 7100, -34, 20, 270, 30],
  [250, 10200, -55, 15, 270, 35],
];

/** The same temperatures, dry all through. */
export const DRY_AIR: readonly AscentLevel[] = DECK_AIR.map(
  ([pressureHPa, heightM, temperatureC, , from, mps]) => [pressureHPa, heightM, temperatureC, 20, from, mps],
);

/** The air of an ascent from between the two aerodromes. */
export function over(rows: readonly AscentLevel[], timeMs: number, given: Partial<Sounding> = {}): Sounding {
  return makeAscent(rows, { timeMs, lonDeg: -71.5, ...given });
}
