-- One row a configured source of bulletins: the name is a digest of its address, which may hold a key. Counts are those of its last
-- whole answer, the fault is its last one, whatever came after it.
CREATE TABLE bulletin_sources (
  source TEXT PRIMARY KEY,
  asked_ms INTEGER NOT NULL,
  gave_ms INTEGER,
  stored INTEGER NOT NULL DEFAULT 0,
  refused INTEGER NOT NULL DEFAULT 0,
  refusal TEXT NOT NULL DEFAULT '',
  fault TEXT NOT NULL DEFAULT '',
  fault_ms INTEGER
);
