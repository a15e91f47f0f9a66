-- The parts of TEMP ascents as they came, so that a part that comes later joins the others. Rows are only ever added.
CREATE TABLE temp_reports (
  operator TEXT NOT NULL,
  station_id TEXT NOT NULL,
  time_ms INTEGER NOT NULL,
  part TEXT NOT NULL,
  correction INTEGER NOT NULL,
  body TEXT NOT NULL,
  UNIQUE (operator, station_id, time_ms, part, correction, body)
);

-- The format joins the key: a TEMP no longer takes the place of the same balloon's BUFR, nor the other way round.
CREATE TABLE soundings_by_format (
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
  release_ms INTEGER,
  PRIMARY KEY (operator, station_id, time_ms, format)
);
INSERT INTO soundings_by_format
  SELECT operator, station_id, time_ms, format, lat_deg, lon_deg, elevation_m, level_count, ingested_ms, body, NULL
  FROM soundings;
DROP TABLE soundings;
ALTER TABLE soundings_by_format RENAME TO soundings;
CREATE INDEX soundings_by_time ON soundings (time_ms, operator);
