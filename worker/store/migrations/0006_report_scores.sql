-- One row a pilot's report that was compared with forecasts, or that cannot be, with the reason. It says all of it again that is
-- asked later: the report's own row goes after a day. at_ms is the time that it counts at: its own, or when it came in.
CREATE TABLE scored_reports (
  operator TEXT NOT NULL,
  report_id TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  time_ms INTEGER,
  lat_deg REAL,
  lon_deg REAL,
  place_words TEXT NOT NULL,
  lower_ft REAL,
  upper_ft REAL,
  said TEXT NOT NULL,
  heaviest TEXT,
  is_large_drops INTEGER NOT NULL,
  top_ft REAL,
  why_unplaced TEXT,
  why_unscored TEXT,
  method TEXT NOT NULL,
  scored_ms INTEGER NOT NULL,
  is_settled INTEGER NOT NULL,
  PRIMARY KEY (operator, report_id)
);
CREATE INDEX scored_reports_by_time ON scored_reports (operator, at_ms);
CREATE INDEX scored_reports_by_scoring ON scored_reports (scored_ms);

-- One row a report, source and lead time. Null is not known.
CREATE TABLE report_scores (
  operator TEXT NOT NULL,
  report_id TEXT NOT NULL,
  source_kind TEXT NOT NULL,
  source_name TEXT NOT NULL,
  lead_bucket INTEGER NOT NULL,
  made_ms INTEGER,
  station TEXT NOT NULL,
  probability REAL,
  flagged_share REAL,
  outcome TEXT NOT NULL,
  top_kind TEXT NOT NULL,
  top_ft REAL,
  PRIMARY KEY (operator, report_id, source_kind, source_name, lead_bucket)
);

-- How often it was begun to score a report that has no scores since; gone once it has.
CREATE TABLE score_attempts (
  operator TEXT NOT NULL,
  report_id TEXT NOT NULL,
  attempts INTEGER NOT NULL,
  last_ms INTEGER NOT NULL,
  PRIMARY KEY (operator, report_id)
);

-- Pilots' reports that are to be scored, among all the others.
CREATE INDEX pilot_reports_by_time ON reports (issued_ms) WHERE kind IN ('pirep', 'airep');
