-- The way out. Moments are UTC text of 20 characters.

-- A letter that leaves nothing behind: its row goes as soon as it has ended.
ALTER TABLE outbox ADD COLUMN passing INTEGER NOT NULL DEFAULT 0 CHECK (passing IN (0, 1));

-- Accounts that were erased, unreadable, so that no backup brings them back.
CREATE TABLE IF NOT EXISTS erased (
    fingerprint TEXT PRIMARY KEY,             -- of the account, slow to work out
    salt TEXT NOT NULL,
    erased_at TEXT NOT NULL,
    applied_at TEXT,                          -- NULL: came with a restored backup, is still to do
    swept_at TEXT                             -- NULL: the file still holds traces in unused places
);
