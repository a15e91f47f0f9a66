-- A network board. Everything that changes on it takes its next number, seq, in the same transaction.
CREATE TABLE boards (
  id TEXT PRIMARY KEY,
  operator TEXT NOT NULL,
  name TEXT NOT NULL,
  time_zone TEXT NOT NULL,
  stands_ms INTEGER,
  created_ms INTEGER NOT NULL,
  seq INTEGER NOT NULL,
  published_seq INTEGER NOT NULL
);
CREATE INDEX boards_by_operator ON boards (operator);

-- Capability links: of the secret only its hash.
CREATE TABLE board_keys (
  key_id TEXT PRIMARY KEY,
  board_id TEXT NOT NULL,
  access TEXT NOT NULL,
  label TEXT NOT NULL,
  sha256 TEXT NOT NULL UNIQUE,
  created_ms INTEGER NOT NULL,
  revoked_ms INTEGER
);
CREATE INDEX board_keys_by_board ON board_keys (board_id);

-- Legs of the schedule; the body is the leg as the contract has it.
CREATE TABLE board_legs (
  board_id TEXT NOT NULL,
  leg_id TEXT NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (board_id, leg_id)
);

-- One flight of a leg. It keeps the leg as it was, so that it outlives a change of the schedule once it departed. Where data bear on it
-- (the reach) is null until it was worked out once. is_due asks for it whatever came in: 0 no, 1 marked, 2 marked and in work, so that a
-- mark made meanwhile is told from the one that the work answers. lease_ms is when the work's claim ends.
CREATE TABLE board_flights (
  board_id TEXT NOT NULL,
  flight_id TEXT NOT NULL,
  leg_id TEXT NOT NULL,
  leg TEXT NOT NULL,
  tail TEXT,
  departure_ms INTEGER NOT NULL,
  seq INTEGER NOT NULL,
  is_removed INTEGER NOT NULL DEFAULT 0,
  is_due INTEGER NOT NULL DEFAULT 1,
  asked_ms INTEGER NOT NULL DEFAULT 0,
  token TEXT NOT NULL DEFAULT '',
  lease_ms INTEGER NOT NULL DEFAULT 0,
  evaluated_ms INTEGER NOT NULL DEFAULT 0,
  evaluation TEXT,
  failure TEXT,
  change TEXT,
  acknowledged TEXT,
  shared TEXT,
  departed TEXT,
  arrived TEXT,
  cancelled TEXT,
  south_deg REAL,
  north_deg REAL,
  west_deg REAL,
  east_deg REAL,
  reach_from_ms INTEGER,
  reach_to_ms INTEGER,
  PRIMARY KEY (board_id, flight_id)
);
CREATE INDEX board_flights_by_seq ON board_flights (board_id, seq);
CREATE INDEX board_flights_by_departure ON board_flights (board_id, departure_ms);
CREATE INDEX board_flights_by_tail ON board_flights (board_id, tail, departure_ms);

-- What a dispatcher entered of an aeroplane: when any of it, by the service's clock, and when its fluid, by the board's.
CREATE TABLE board_tails (
  board_id TEXT NOT NULL,
  tail TEXT NOT NULL,
  fluid_l REAL,
  fluid_entered_ms INTEGER,
  inoperative TEXT NOT NULL,
  note TEXT NOT NULL,
  entered_ms INTEGER NOT NULL,
  entered_by TEXT NOT NULL,
  seq INTEGER NOT NULL,
  PRIMARY KEY (board_id, tail)
);

-- Who acknowledged what. Rows are added, and deleted when a person asks for it, never changed.
CREATE TABLE board_log (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  board_id TEXT NOT NULL,
  flight_id TEXT NOT NULL,
  flight_name TEXT NOT NULL,
  seq INTEGER NOT NULL,
  sentence TEXT NOT NULL,
  person TEXT NOT NULL,
  at_ms INTEGER NOT NULL
);
CREATE INDEX board_log_by_board ON board_log (board_id, id);

-- Every write to a board, by whom, and how it was answered; never a secret.
CREATE TABLE board_audit (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  board_id TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  principal TEXT NOT NULL,
  action TEXT NOT NULL,
  target TEXT NOT NULL,
  status INTEGER NOT NULL
);
CREATE INDEX board_audit_by_board ON board_audit (board_id, id);
CREATE INDEX board_audit_by_time ON board_audit (at_ms);

-- Browsers that asked to be told when a verdict worsens.
CREATE TABLE board_push (
  board_id TEXT NOT NULL,
  endpoint TEXT NOT NULL,
  key_id TEXT NOT NULL,
  p256dh TEXT NOT NULL,
  auth TEXT NOT NULL,
  person TEXT NOT NULL,
  created_ms INTEGER NOT NULL,
  PRIMARY KEY (board_id, endpoint)
);

-- What came in since a flight was worked out.
CREATE INDEX grid_hours_by_arrival ON grid_hours (ingested_ms);
CREATE INDEX soundings_by_arrival ON soundings (ingested_ms);
CREATE INDEX reports_by_arrival ON reports (ingested_ms);
