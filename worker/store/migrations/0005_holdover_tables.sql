-- The reports of one station are found by their series.
CREATE INDEX reports_by_series ON reports (series, operator);

-- One row a holdover table in use: an operator's newest of an issuer, a type of fluid and a surface. The body is the table as it was
-- loaded and checked.
CREATE TABLE holdover_tables (
  operator TEXT NOT NULL,
  id TEXT NOT NULL,
  issued_on TEXT NOT NULL,
  expires_on TEXT NOT NULL,
  body TEXT NOT NULL,
  loaded_ms INTEGER NOT NULL,
  PRIMARY KEY (operator, id)
);
