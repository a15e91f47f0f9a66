-- The parts of TEMP ascents as they came, so that a part that comes later joins the others.
CREATE TABLE temp_reports (
  operator TEXT NOT NULL,
  station_id TEXT NOT NULL,
  time_ms INTEGER NOT NULL,
  part TEXT NOT NULL,
  correction INTEGER NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (operator, station_id, time_ms, part, correction)
);
ALTER TABLE soundings ADD COLUMN release_ms INTEGER;
