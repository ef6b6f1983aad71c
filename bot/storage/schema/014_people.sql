-- Who takes part under which name, who leads, who stands in, and who was there.
-- Moments are UTC text of 20 characters.

-- What the instructors of a group call a member; NULL: as in their chat.
ALTER TABLE membership ADD COLUMN called TEXT CHECK (length(called) BETWEEN 1 AND 64);
ALTER TABLE membership ADD COLUMN removed_at TEXT;      -- by an instructor, who may undo it

-- A link for one person, by the name that an instructor has for them; NULL: for anybody.
ALTER TABLE invite ADD COLUMN called TEXT CHECK (length(called) BETWEEN 1 AND 64);

-- What instructors remember about a member, for their own eyes and that member's.
CREATE TABLE note (
    id TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),     -- whom it is about
    written_by TEXT REFERENCES person (id),             -- NULL: by somebody who was erased
    text TEXT NOT NULL CHECK (length(text) BETWEEN 1 AND 500),
    written_at TEXT NOT NULL CHECK (length(written_at) = 20)
);
CREATE INDEX note_about ON note (group_id, person_id);

-- Who was there and who wasn't, as an instructor has noted it.
CREATE TABLE attendance (
    session_id TEXT NOT NULL REFERENCES session (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    word TEXT NOT NULL CHECK (word IN ('present', 'absent')),
    noted_at TEXT NOT NULL CHECK (length(noted_at) = 20),
    PRIMARY KEY (session_id, person_id)
);

-- A way to lead a group, or one of its classes. The code itself is only in the link.
-- It opens nothing once whoever gave it no longer leads.
CREATE TABLE entrusting (
    id TEXT PRIMARY KEY,
    fingerprint TEXT NOT NULL UNIQUE,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),     -- who gave it
    kind TEXT NOT NULL CHECK (kind IN ('share', 'handover', 'session')),
    session_id TEXT,                                    -- stays when the timetable is made anew
    account BIGINT,                                     -- who is reading what it means, the latest
    made_at TEXT NOT NULL CHECK (length(made_at) = 20),
    expires_at TEXT NOT NULL CHECK (length(expires_at) = 20),
    used_at TEXT,
    revoked_at TEXT,
    CHECK ((kind = 'session') = (session_id IS NOT NULL))
);
CREATE INDEX entrusting_of_group ON entrusting (group_id);

-- Who stands in for the instructors in one class; pruned a month after they began to.
CREATE TABLE substitute (
    id TEXT PRIMARY KEY,
    session_id TEXT NOT NULL,                           -- stays when the timetable is made anew
    person_id TEXT NOT NULL REFERENCES person (id),
    since TEXT NOT NULL CHECK (length(since) = 20),
    UNIQUE (session_id, person_id)
);
CREATE INDEX substitute_person ON substitute (person_id);

-- An instructor is about to type something: a name, or a note. Goes with what they type, or with
-- whatever newer is on their screen.
CREATE TABLE jotting (
    person_id TEXT PRIMARY KEY REFERENCES person (id),
    kind TEXT NOT NULL CHECK (kind IN ('name', 'note', 'invite')),
    group_id TEXT NOT NULL REFERENCES training_group (id),
    about TEXT REFERENCES person (id),                  -- the member; NULL for an invite
    asked_at TEXT NOT NULL CHECK (length(asked_at) = 20)
);

-- An instructor wants a group's data as files; pruned a month after.
CREATE TABLE export (
    id TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    asked_at TEXT NOT NULL CHECK (length(asked_at) = 20),
    done_at TEXT
);
