-- One row a brief that somebody shared. Its bytes lie on R2 under the identifier and are never written again; the row is what they were
-- made with. What expired or was taken back keeps its row for a while, without bytes.
CREATE TABLE shared_briefs (
  id TEXT PRIMARY KEY,
  created_ms INTEGER NOT NULL,
  expires_ms INTEGER NOT NULL,
  revoked_ms INTEGER,
  sha256 TEXT NOT NULL,
  key_sha256 TEXT NOT NULL,
  method TEXT NOT NULL,
  operators TEXT NOT NULL,
  request TEXT NOT NULL,
  title TEXT NOT NULL,
  sentence TEXT NOT NULL
);
CREATE INDEX shared_briefs_by_end ON shared_briefs (expires_ms);

-- How often a sender wrote within a window of time.
CREATE TABLE write_counts (
  sender TEXT NOT NULL,
  window_ms INTEGER NOT NULL,
  count INTEGER NOT NULL,
  PRIMARY KEY (sender, window_ms)
);
CREATE INDEX write_counts_by_window ON write_counts (window_ms);
