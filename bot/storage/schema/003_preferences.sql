-- What people choose for themselves. Moments are UTC text of 20 characters.

ALTER TABLE person ADD COLUMN chosen_language TEXT;      -- NULL: as in their chat
ALTER TABLE person ADD COLUMN scale TEXT NOT NULL DEFAULT '0-10' CHECK (scale IN ('0-10', '6-20'));
ALTER TABLE person ADD COLUMN asked TEXT NOT NULL DEFAULT 'after'
    CHECK (asked IN ('after', 'evening', 'morning'));
ALTER TABLE person ADD COLUMN no_reminder_since TEXT;    -- NULL: they are reminded
ALTER TABLE person ADD COLUMN quiet_from INTEGER NOT NULL DEFAULT 1290
    CHECK (quiet_from BETWEEN 0 AND 1439);               -- minutes since local midnight
ALTER TABLE person ADD COLUMN quiet_until INTEGER NOT NULL DEFAULT 480
    CHECK (quiet_until BETWEEN 0 AND 1439);
ALTER TABLE person ADD COLUMN heart_rate_since TEXT;     -- NULL: no words about heart rate

-- The number as it was given, where that was on the scale from 6 to 20; NULL where it wasn't.
ALTER TABLE answer ADD COLUMN on_6_20 REAL;

-- The scale of the question on screen: what a typed number means.
ALTER TABLE prompt ADD COLUMN scale TEXT NOT NULL DEFAULT '0-10'
    CHECK (scale IN ('0-10', '6-20'));

-- Someone wants no prompts for a while; goes when they say so, or when it is over.
CREATE TABLE pause (
    person_id TEXT PRIMARY KEY REFERENCES person (id),
    id TEXT NOT NULL UNIQUE,                  -- for the button that ends it
    since TEXT NOT NULL,
    ends_at TEXT                              -- NULL: when they say so
);

-- A question to a person that isn't about a class; goes with its answer, or is pruned.
CREATE TABLE dialogue (
    id TEXT PRIMARY KEY,
    person_id TEXT NOT NULL REFERENCES person (id),
    kind TEXT NOT NULL CHECK (kind IN ('pause', 'hurt', 'erase')),
    asked_at TEXT NOT NULL,
    typing_since TEXT                         -- what is typed answers it; NULL: only its buttons do
);
CREATE INDEX dialogue_of_person ON dialogue (person_id);

-- Members who are asked or reminded at a moment of their own; done or knowingly dropped, once.
CREATE TABLE asking (
    kind TEXT NOT NULL CHECK (kind IN ('prompt', 'reminder')),
    session_id TEXT NOT NULL REFERENCES session (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    at TEXT NOT NULL,
    not_after TEXT NOT NULL,
    ended_at TEXT,
    PRIMARY KEY (kind, session_id, person_id)
);
CREATE INDEX asking_open ON asking (at) WHERE ended_at IS NULL;
