-- Beside its bytes a shared brief has on R2 what it was made from; the hash is that of these inputs as they are kept, null where they
-- were too much or it was shared before there were any. Whose key it was shared with: an operator, then after a blank the key of a board
-- where it was one; null for nobody's. Where the sweep for objects without a row goes on.
ALTER TABLE shared_briefs ADD COLUMN inputs_sha256 TEXT;
ALTER TABLE shared_briefs ADD COLUMN maker TEXT;
CREATE TABLE shared_sweeps (
  name TEXT PRIMARY KEY,
  after_key TEXT NOT NULL
);
