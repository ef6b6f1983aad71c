-- What instructors do about alerts, when they want to be told, and what they hear after a class.

-- Raised, acknowledged, cleared with or without a note, or resolved by itself.
ALTER TABLE alert ADD COLUMN cleared_at TEXT CHECK (length(cleared_at) = 20);
ALTER TABLE alert ADD COLUMN cleared_by TEXT REFERENCES person (id);
ALTER TABLE alert ADD COLUMN note TEXT CHECK (length(note) <= 500);
ALTER TABLE alert ADD COLUMN again_at TEXT CHECK (length(again_at) = 20);  -- NULL: comes no more

-- An instructor was asked for the note of an alert: what they type is it. Goes with the note, with
-- whatever newer is on screen, or is pruned.
CREATE TABLE alert_noting (
    person_id TEXT PRIMARY KEY REFERENCES person (id),
    alert_id TEXT NOT NULL REFERENCES alert (id) ON DELETE CASCADE,
    asked_at TEXT NOT NULL CHECK (length(asked_at) = 20)
);

-- When a group's instructors want to be told, where they chose something.
CREATE TABLE threshold (
    group_id TEXT NOT NULL REFERENCES training_group (id),
    name TEXT NOT NULL,
    value INTEGER NOT NULL CHECK (value >= 0),  -- 0: never
    changed_at TEXT NOT NULL CHECK (length(changed_at) = 20),
    PRIMARY KEY (group_id, name)
);

-- The summary after a class: one row per class whose members were asked.
CREATE TABLE summary (
    session_id TEXT PRIMARY KEY REFERENCES session (id),
    at TEXT NOT NULL CHECK (length(at) = 20),          -- the latest moment; earlier if all is said
    not_after TEXT NOT NULL CHECK (length(not_after) = 20),
    done_at TEXT CHECK (length(done_at) = 20),         -- sent, or knowingly left out
    demands TEXT,                                      -- JSON: what was offered; NULL: nothing was
    applied_at TEXT CHECK (length(applied_at) = 20),
    plan_before TEXT REFERENCES plan (id),             -- to go back to
    plan_after TEXT REFERENCES plan (id)
);
CREATE INDEX summary_open ON summary (at) WHERE done_at IS NULL;
