-- What went wrong with the running of the service: a row an alarm, one that has not ended a code and subject. told counts what the
-- address that hears of alarms was told of it: nothing, that it was raised, that it ended too.
CREATE TABLE alarms (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  code TEXT NOT NULL,
  subject TEXT NOT NULL,
  since_ms INTEGER NOT NULL,
  sentence TEXT NOT NULL,
  last_seen_ms INTEGER NOT NULL,
  ended_ms INTEGER,
  told INTEGER NOT NULL DEFAULT 0
);
CREATE UNIQUE INDEX alarms_active ON alarms (code, subject) WHERE ended_ms IS NULL;
CREATE INDEX alarms_by_end ON alarms (ended_ms);

-- When something that comes by the clock came first and last.
CREATE TABLE heartbeats (
  name TEXT PRIMARY KEY,
  first_ms INTEGER NOT NULL,
  at_ms INTEGER NOT NULL
);
