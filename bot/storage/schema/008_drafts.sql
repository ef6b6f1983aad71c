-- Plans that are being made, and plans for one class. Moments are UTC text of 20 characters.

-- A group that an instructor is setting up, or changes to a plan, before they count. One of each
-- kind at a time; goes when it has become true, is thrown away, or was left alone for long.
CREATE TABLE draft (
    id TEXT PRIMARY KEY,
    person_id TEXT NOT NULL REFERENCES person (id),
    kind TEXT NOT NULL CHECK (kind IN ('setup', 'change')),
    group_id TEXT REFERENCES training_group (id),   -- whose plan it changes; NULL: a new group's
    plan_id TEXT REFERENCES plan (id),              -- what it began with
    document TEXT NOT NULL,                         -- a plan file in progress
    step TEXT NOT NULL,                             -- what is on screen
    typing_since TEXT,                              -- what is typed is for it; NULL: it isn't
    changed_at TEXT NOT NULL CHECK (length(changed_at) = 20),
    UNIQUE (person_id, kind),
    CHECK ((kind = 'change') = (group_id IS NOT NULL)),
    CHECK ((kind = 'change') = (plan_id IS NOT NULL))
);

-- A class with a plan of its own; the others have their group's. Goes when the class follows its
-- group again.
CREATE TABLE own_plan (
    session_id TEXT PRIMARY KEY,                    -- stays when the timetable is made anew
    plan_id TEXT NOT NULL REFERENCES plan (id),
    chosen_at TEXT NOT NULL CHECK (length(chosen_at) = 20)
);
