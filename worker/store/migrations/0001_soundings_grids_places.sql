-- One row an ascent; body holds its levels as JSON columns, null where the file had nothing.
CREATE TABLE soundings (
  operator TEXT NOT NULL,
  station_id TEXT NOT NULL,
  time_ms INTEGER NOT NULL,
  format TEXT NOT NULL,
  lat_deg REAL NOT NULL,
  lon_deg REAL NOT NULL,
  elevation_m REAL,
  level_count INTEGER NOT NULL,
  ingested_ms INTEGER NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (operator, station_id, time_ms)
);
CREATE INDEX soundings_by_time ON soundings (time_ms, operator);

-- One row a published forecast hour. The row is the act of publishing: an hour without it is never read.
CREATE TABLE grid_hours (
  operator TEXT NOT NULL,
  model TEXT NOT NULL,
  run_ms INTEGER NOT NULL,
  valid_ms INTEGER NOT NULL,
  manifest_key TEXT NOT NULL,
  ingested_ms INTEGER NOT NULL,
  PRIMARY KEY (operator, model, run_ms, valid_ms)
);
CREATE INDEX grid_hours_by_time ON grid_hours (valid_ms, operator);

-- An operator's own fixes.
CREATE TABLE places (
  operator TEXT NOT NULL,
  ident TEXT NOT NULL,
  name TEXT NOT NULL,
  lat_deg REAL NOT NULL,
  lon_deg REAL NOT NULL,
  elevation_m REAL,
  PRIMARY KEY (operator, ident)
);
CREATE INDEX places_by_ident ON places (ident);

-- Spot heights: highest ground at a place, for minimum altitudes.
CREATE TABLE spot_heights (
  operator TEXT NOT NULL,
  name TEXT NOT NULL,
  lat_deg REAL NOT NULL,
  lon_deg REAL NOT NULL,
  height_m REAL NOT NULL,
  PRIMARY KEY (operator, name)
);
