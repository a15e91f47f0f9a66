/** Flights of a board brought into agreement with its schedule, a list at a time. */
import type { D1Database } from '@cloudflare/workers-types';
import type { BoardFlights, WantedFlight } from '../sources/boards.ts';
import { DUE } from './board-due-query.ts';
import { inOneChange, NEXT_NUMBER } from './board-number.ts';
import { jsonBatches } from './json-batches.ts';

/** Of a flight that did not leave yet: what left stays as it was, whatever becomes of the schedule. */
const UNDEPARTED = 'board_flights.departed IS NULL AND board_flights.arrived IS NULL';

/** Members of a leg that no evaluation is made of: with another label, calendar or minima the old one still is of this flight. */
const NOT_FLOWN = [
  'label',
  'weekdays',
  'departureLocal',
  'timeZone',
  'fromDate',
  'untilDate',
  'plannedMinutes',
  'destinationMinima',
  'alternateMinima',
]
  .map((member) => `'$.${member}'`)
  .join(', ');

/** What is flown of a leg; null of one that does not read, which is like no other. */
const flown = (leg: string) => `CASE WHEN json_valid(${leg}) THEN json_remove(${leg}, ${NOT_FLOWN}) END`;
const IS_SAME_FLIGHT = `board_flights.departure_ms = excluded.departure_ms
  AND ${flown('board_flights.leg')} = ${flown('excluded.leg')}`;

/** What was worked out belongs to the flight as it was. A consumer that is at it has lost its claim: its outcome is of another flight. */
const FORGOTTEN_OF_ANOTHER = [
  ...['evaluation', 'failure', 'south_deg', 'north_deg', 'west_deg', 'east_deg'].map(keptOr('NULL')),
  ...['reach_from_ms', 'reach_to_ms'].map(keptOr('NULL')),
  ...['evaluated_ms', 'asked_ms', 'lease_ms'].map(keptOr('0')),
  keptOr("''")('token'),
].join(', ');

function keptOr(empty: string): (column: string) => string {
  return (column) => `${column} = CASE WHEN ${IS_SAME_FLIGHT} THEN board_flights.${column} ELSE ${empty} END`;
}

/** Legs come once each with their flights: [leg id, tail, leg, [[flight id, departure], ...]]. */
const PUT_FLIGHTS = `INSERT INTO board_flights (board_id, flight_id, leg_id, tail, leg, departure_ms, seq)
  SELECT ?1, json_extract(f.value, '$[0]'), json_extract(l.value, '$[0]'), json_extract(l.value, '$[1]'),
    json_extract(l.value, '$[2]'), json_extract(f.value, '$[1]'), b.seq + 1
  FROM boards b, json_each(?2) l, json_each(l.value, '$[3]') f WHERE b.id = ?1
  ON CONFLICT DO UPDATE SET ${FORGOTTEN_OF_ANOTHER}, leg_id = excluded.leg_id, tail = excluded.tail, leg = excluded.leg,
    departure_ms = excluded.departure_ms, seq = excluded.seq, is_removed = 0, is_due = ${DUE.marked}
  WHERE ${UNDEPARTED} AND (board_flights.is_removed = 1 OR board_flights.leg <> excluded.leg
    OR board_flights.departure_ms <> excluded.departure_ms)`;

const REMOVE_FLIGHTS = `UPDATE board_flights SET is_removed = 1, token = '', seq = ${NEXT_NUMBER}
  WHERE board_id = ?1 AND departure_ms BETWEEN ?2 AND ?3 AND is_removed = 0 AND ${UNDEPARTED}
    AND flight_id NOT IN (SELECT value FROM json_each(?4))`;

export function createBoardAgreement(db: D1Database): Pick<BoardFlights, 'agree'> {
  return {
    async agree(boardId, wanted, { fromMs, toMs }) {
      const ids = JSON.stringify(wanted.map(({ id }) => id));
      await inOneChange(db, boardId, [
        db.prepare(REMOVE_FLIGHTS).bind(boardId, fromMs, toMs, ids),
        ...jsonBatches(byLeg(wanted)).map((text) => db.prepare(PUT_FLIGHTS).bind(boardId, text)),
      ]);
    },
  };
}

type LegAndFlights = [
  id: string,
  tail: string | null,
  leg: string,
  flights: [id: string, departureMs: number][],
];

/** A leg of many days is written once. */
function byLeg(wanted: readonly WantedFlight[]): LegAndFlights[] {
  const legs = new Map<string, LegAndFlights>();
  const texts = new Map<WantedFlight['leg'], string>();
  for (const { id, legId, leg, departureMs } of wanted) {
    const text = texts.get(leg) ?? JSON.stringify(leg);
    texts.set(leg, text);
    const key = `${legId} ${text}`;
    const known = legs.get(key);
    if (known === undefined) legs.set(key, [legId, leg.tail, text, [[id, departureMs]]]);
    else known[3].push([id, departureMs]);
  }
  return [...legs.values()];
}
