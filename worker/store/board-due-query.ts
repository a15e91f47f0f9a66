/**
 * The one statement that selects and marks what is due. It walks the flights of each board from two days ago on, and for each the data
 * that came in since it was worked out, by their arrival: tests/runtime/board-due.test.ts asks for its plan.
 */

/** What `is_due` holds: a mark that comes while somebody works outlives that work, and a crash loses none. */
export const DUE = { not: 0, marked: 1, inWork: 2 } as const;

const H = 3_600_000;
/** No reach goes on for longer after departure. */
const LONGEST_MS = 48 * H;
/** A flight of which nothing is known yet is past then. */
const PAST_AFTER_MS = 12 * H;

/** ?1 now, ?2 how long an asking and a claim last, ?3 [[within, most], ...], ?4 open operators, ?5 how many. */
const BOARD_NOW = 'COALESCE(b.stands_ms, ?1)';

const readable = (row: string) =>
  `(${row}.operator = b.operator OR ${row}.operator IN (SELECT value FROM json_each(?4)))`;

/** An index by name: planned by guess, the index of valid times looks better, and is walked whole. */
const NEW_GRID = `SELECT 1 FROM grid_hours g INDEXED BY grid_hours_by_arrival
  WHERE g.ingested_ms >= f.evaluated_ms AND g.valid_ms BETWEEN f.reach_from_ms AND f.reach_to_ms AND ${readable('g')}`;

const NEW_SOUNDING = `SELECT 1 FROM soundings s INDEXED BY soundings_by_arrival
  WHERE s.ingested_ms >= f.evaluated_ms AND s.time_ms BETWEEN f.reach_from_ms AND f.reach_to_ms AND ${readable('s')}
    AND s.lat_deg BETWEEN f.south_deg AND f.north_deg
    AND CASE WHEN f.west_deg <= f.east_deg THEN s.lon_deg BETWEEN f.west_deg AND f.east_deg
      ELSE s.lon_deg >= f.west_deg OR s.lon_deg <= f.east_deg END`;

/** Two spans of longitude: either may go over the antimeridian, and both that do meet there. */
const NEW_REPORT = `SELECT 1 FROM reports r INDEXED BY reports_by_arrival
  WHERE r.ingested_ms >= f.evaluated_ms AND r.valid_from_ms <= f.reach_to_ms AND r.valid_to_ms >= f.reach_from_ms
    AND ${readable('r')} AND (r.south_deg IS NULL OR (r.south_deg <= f.north_deg AND r.north_deg >= f.south_deg
    AND CASE (f.west_deg > f.east_deg) + (r.west_deg > r.east_deg)
      WHEN 0 THEN r.west_deg <= f.east_deg AND r.east_deg >= f.west_deg
      WHEN 1 THEN r.west_deg <= f.east_deg OR r.east_deg >= f.west_deg
      ELSE 1 END))`;

/** null where no rule reaches that far ahead. */
const MOST_AGE = `SELECT json_extract(value, '$[1]') FROM json_each(?3)
  WHERE json_extract(value, '$[0]') >= f.departure_ms - ?1 ORDER BY json_extract(value, '$[0]') LIMIT 1`;

/** What failed is tried again once a lease is over, even where nothing new came. */
const IS_DUE = `f.is_due <> ${DUE.not} OR f.evaluated_ms = 0
  OR (f.failure IS NOT NULL AND f.evaluated_ms <= ?1 - ?2)
  OR (b.stands_ms IS NULL AND ?1 - f.evaluated_ms > (${MOST_AGE}))
  OR (f.reach_to_ms IS NOT NULL AND (EXISTS (${NEW_GRID}) OR EXISTS (${NEW_SOUNDING}) OR EXISTS (${NEW_REPORT})))`;

const DUE_ROWS = `SELECT f.rowid FROM boards b CROSS JOIN board_flights f
  WHERE f.board_id = b.id AND f.departure_ms >= ${BOARD_NOW} - ${LONGEST_MS}
    AND f.is_removed = 0 AND f.cancelled IS NULL AND f.arrived IS NULL
    AND COALESCE(f.reach_to_ms, f.departure_ms + ${PAST_AFTER_MS}) >= ${BOARD_NOW}
    AND NOT (f.token <> '' AND f.lease_ms > ?1 AND f.lease_ms <= ?1 + ?2)
    AND NOT (f.asked_ms > ?1 - ?2 AND f.asked_ms <= ?1)
    AND (${IS_DUE})
  ORDER BY f.departure_ms < ${BOARD_NOW}, ABS(f.departure_ms - ${BOARD_NOW}), f.flight_id LIMIT ?5`;

/** Gives of each how long it is until departure, negative after it. */
export const TAKE_DUE = `UPDATE board_flights SET asked_ms = ?1, is_due = ${DUE.marked} WHERE rowid IN (${DUE_ROWS})
  RETURNING board_id, flight_id,
    departure_ms - COALESCE((SELECT stands_ms FROM boards WHERE id = board_flights.board_id), ?1) AS wait`;
