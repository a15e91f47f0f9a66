-- One row a forecast hour that was asked for: what became of it last. The scope is whose hours and of which area; the token is
-- that of the consumer that works on it.
CREATE TABLE supply_hours (
  scope TEXT NOT NULL,
  model_id TEXT NOT NULL,
  run_ms INTEGER NOT NULL,
  forecast_hour INTEGER NOT NULL,
  state TEXT NOT NULL,
  detail TEXT NOT NULL DEFAULT '',
  failures INTEGER NOT NULL DEFAULT 0,
  refusals INTEGER NOT NULL DEFAULT 0,
  token TEXT NOT NULL DEFAULT '',
  updated_ms INTEGER NOT NULL,
  PRIMARY KEY (scope, model_id, run_ms, forecast_hour)
);

-- What runs of different models are compared by; hours stored before are taken for coarse and dry.
ALTER TABLE grid_hours ADD COLUMN spacing_m REAL NOT NULL DEFAULT 100000;
ALTER TABLE grid_hours ADD COLUMN has_cloud_water INTEGER NOT NULL DEFAULT 0;

-- One row a set of objects of one hour: being written, published, or retired and soon deleted. What crashed half-way is found here.
CREATE TABLE grid_prefixes (
  prefix TEXT PRIMARY KEY,
  operator TEXT NOT NULL,
  state TEXT NOT NULL,
  changed_ms INTEGER NOT NULL
);
CREATE INDEX grid_prefixes_by_state ON grid_prefixes (state, changed_ms);
