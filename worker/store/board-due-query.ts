/**
 * The one statement that selects and marks what is due. It walks the flights of each board from two days ago on, and the data that came
 * in since, by their arrival: tests/runtime/board-due.test.ts asks for its plan.
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

/** Flights that may be due, and what of them decides it. */
const MAYBE_DUE = `SELECT f.rowid AS id, b.id AS board_id, b.operator, b.stands_ms, f.departure_ms - ${BOARD_NOW} AS wait_ms, f.is_due,
    f.flight_id, f.failure IS NOT NULL AS has_failed, f.evaluated_ms, f.south_deg, f.north_deg, f.west_deg, f.east_deg,
    f.reach_from_ms, f.reach_to_ms
  FROM boards b CROSS JOIN board_flights f
  WHERE (?6 IS NULL OR b.id = ?6) AND f.board_id = b.id AND f.departure_ms >= ${BOARD_NOW} - ${LONGEST_MS}
    AND f.is_removed = 0 AND f.cancelled IS NULL AND f.arrived IS NULL
    AND COALESCE(f.reach_to_ms, f.departure_ms + ${PAST_AFTER_MS}) >= ${BOARD_NOW}
    AND NOT (f.token <> '' AND f.lease_ms > ?1 AND f.lease_ms <= ?1 + ?2)
    AND NOT (f.asked_ms > ?1 - ?2 AND f.asked_ms <= ?1)`;

/** When data may have come that a board has not seen, and of which times. */
const SPANS = `SELECT board_id, operator, MIN(evaluated_ms) AS evaluated_ms, MIN(reach_from_ms) AS reach_from_ms,
    MAX(reach_to_ms) AS reach_to_ms FROM flights WHERE reach_to_ms IS NOT NULL GROUP BY board_id`;

/** Data as a table of spans and boxes; an index by name, since of times alone the planner would guess the wrong one. */
const GRIDS = `SELECT operator, ingested_ms, valid_ms AS from_ms, valid_ms AS to_ms,
  NULL AS south, NULL AS north, NULL AS west, NULL AS east FROM grid_hours INDEXED BY grid_hours_by_arrival`;
const SOUNDINGS = `SELECT operator, ingested_ms, time_ms AS from_ms, time_ms AS to_ms,
  lat_deg AS south, lat_deg AS north, lon_deg AS west, lon_deg AS east FROM soundings INDEXED BY soundings_by_arrival`;
const REPORTS = `SELECT operator, ingested_ms, valid_from_ms AS from_ms, valid_to_ms AS to_ms,
  south_deg AS south, north_deg AS north, west_deg AS west, east_deg AS east FROM reports INDEXED BY reports_by_arrival`;

/** Data that came since a flight, or a board, was worked out, for its times, of an operator that it reads. */
const cameFor = (whom: string) => `d.ingested_ms >= ${whom}.evaluated_ms
  AND d.from_ms <= ${whom}.reach_to_ms AND d.to_ms >= ${whom}.reach_from_ms
  AND (d.operator = ${whom}.operator OR d.operator IN (SELECT value FROM json_each(?4)))`;

/** Without a box it is anywhere. Either span of longitude may go over the antimeridian, and two that do meet there. */
const IS_WITHIN = `(d.south IS NULL OR (d.south <= f.north_deg AND d.north >= f.south_deg
  AND CASE (f.west_deg > f.east_deg) + (d.west > d.east)
    WHEN 0 THEN d.west <= f.east_deg AND d.east >= f.west_deg
    WHEN 1 THEN d.west <= f.east_deg OR d.east >= f.west_deg
    ELSE 1 END))`;

/**
 * What came in for a board, gathered by place and time: thousands of reports for other hours or places are then looked at once,
 * and not for each flight again.
 */
const GATHERED = [GRIDS, SOUNDINGS, REPORTS]
  .map(
    (
      data,
    ) => `SELECT s.board_id, MAX(d.ingested_ms) AS ingested_ms, MIN(d.from_ms) AS from_ms, MAX(d.to_ms) AS to_ms,
      MIN(d.south) AS south, MAX(d.north) AS north, MIN(d.west) AS west, MAX(d.east) AS east
    FROM spans s CROSS JOIN (${data}) d WHERE ${cameFor('s')}
    GROUP BY s.board_id, d.from_ms / ${3 * H}, d.to_ms / ${3 * H}, d.west > d.east,
      ${['south', 'north', 'west', 'east'].map((edge) => `CAST(d.${edge} / 4 AS INTEGER)`).join(', ')}`,
  )
  .join(' UNION ALL ');

const MAY_HAVE_COME = `EXISTS (SELECT 1 FROM gathered d WHERE d.board_id = f.board_id AND d.ingested_ms >= f.evaluated_ms
  AND d.from_ms <= f.reach_to_ms AND d.to_ms >= f.reach_from_ms AND ${IS_WITHIN})`;
const HAS_COME = [GRIDS, SOUNDINGS, REPORTS]
  .map((data) => `EXISTS (SELECT 1 FROM (${data}) d WHERE ${cameFor('f')} AND ${IS_WITHIN})`)
  .join(' OR ');

/** null where no rule reaches that far ahead. */
const MOST_AGE = `SELECT json_extract(value, '$[1]') FROM json_each(?3)
  WHERE json_extract(value, '$[0]') >= f.wait_ms ORDER BY json_extract(value, '$[0]') LIMIT 1`;

/** What failed is tried again once a lease is over, even where nothing new came. */
const IS_DUE = `f.is_due <> ${DUE.not} OR f.evaluated_ms = 0 OR (f.has_failed AND f.evaluated_ms <= ?1 - ?2)
  OR (f.stands_ms IS NULL AND ?1 - f.evaluated_ms > (${MOST_AGE}))
  OR (f.reach_to_ms IS NOT NULL AND ${MAY_HAVE_COME} AND (${HAS_COME}))`;

const DUE_ROWS = `WITH flights AS MATERIALIZED (${MAYBE_DUE}), spans AS MATERIALIZED (${SPANS}), gathered AS MATERIALIZED (${GATHERED})
  SELECT f.id FROM flights f WHERE ${IS_DUE} ORDER BY f.wait_ms < 0, ABS(f.wait_ms), f.flight_id LIMIT ?5`;

/** Gives of each how long it is until departure, negative after it. */
export const TAKE_DUE = `UPDATE board_flights SET asked_ms = ?1, is_due = ${DUE.marked} WHERE rowid IN (${DUE_ROWS})
  RETURNING board_id, flight_id,
    departure_ms - COALESCE((SELECT stands_ms FROM boards WHERE id = board_flights.board_id), ?1) AS wait`;
