-- One row a report or warning. The body holds where it is and what of it bears on legs; the box is around all of it, null where
-- nobody can tell where it ends. Only rows that bear on legs are read for one.
CREATE TABLE reports (
  operator TEXT NOT NULL,
  id TEXT NOT NULL,
  kind TEXT NOT NULL,
  hazard_kind TEXT NOT NULL,
  series TEXT NOT NULL,
  rank INTEGER NOT NULL,
  issued_ms INTEGER NOT NULL,
  valid_from_ms INTEGER NOT NULL,
  valid_to_ms INTEGER NOT NULL,
  bears_on_legs INTEGER NOT NULL,
  south_deg REAL,
  north_deg REAL,
  west_deg REAL,
  east_deg REAL,
  text TEXT NOT NULL,
  body TEXT NOT NULL,
  ingested_ms INTEGER NOT NULL,
  PRIMARY KEY (operator, id)
);
CREATE INDEX reports_by_time ON reports (bears_on_legs, valid_to_ms);
CREATE INDEX reports_by_kind ON reports (operator, kind, issued_ms);
