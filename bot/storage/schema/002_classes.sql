-- People, groups, sessions and what was said. Moments are UTC text of 20 characters.

-- Someone the bot knows: a row comes with a claim or a joining, and goes with erasure.
CREATE TABLE person (
    id TEXT PRIMARY KEY,
    account BIGINT NOT NULL UNIQUE,          -- the chat API's number, also their private chat
    name TEXT NOT NULL CHECK (length(name) <= 64),
    language TEXT,                            -- of their chat, such as de; NULL if not known
    met_at TEXT NOT NULL,
    owner_since TEXT                          -- claimed the bot: may make groups
);

-- A row comes with a plan file; a later file for the same group changes it.
CREATE TABLE training_group (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL CHECK (length(name) <= 64),
    made_at TEXT NOT NULL,
    plan_id TEXT NOT NULL                     -- the plan from now on; older ones stay in plan
);

-- What was planned when: rows are never changed.
CREATE TABLE plan (
    id TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    document TEXT NOT NULL,                   -- the plan file as it was sent
    made_at TEXT NOT NULL
);
CREATE INDEX plan_of_group ON plan (group_id);

-- Who leads a group.
CREATE TABLE leading (
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    since TEXT NOT NULL,
    PRIMARY KEY (group_id, person_id)
);
CREATE INDEX leading_of_person ON leading (person_id);

-- Who takes part. A row comes with consent; leaving keeps it, with the moment.
CREATE TABLE membership (
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    agreed_at TEXT NOT NULL,
    left_at TEXT,
    PRIMARY KEY (group_id, person_id)
);
CREATE INDEX membership_of_person ON membership (person_id);

-- A way in. The code itself is only in the link.
CREATE TABLE invite (
    fingerprint TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    made_at TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    uses_left INTEGER NOT NULL CHECK (uses_left >= 0),
    revoked_at TEXT
);
CREATE INDEX invite_of_group ON invite (group_id);

-- Someone reads what is stored and the cautions; goes when they answer, or after a day.
CREATE TABLE joining (
    id TEXT PRIMARY KEY,
    account BIGINT NOT NULL,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    invite TEXT NOT NULL,
    asked_at TEXT NOT NULL
);

-- Wrong codes per account, so that guessing ends; pruned after a day.
CREATE TABLE wrong_code (
    account BIGINT NOT NULL,
    tried_at TEXT NOT NULL,
    update_id BIGINT NOT NULL,
    PRIMARY KEY (account, update_id)
);

-- A plan file that waits for a yes, since it would replace something.
CREATE TABLE upload (
    id TEXT PRIMARY KEY,
    person_id TEXT NOT NULL REFERENCES person (id),
    group_id TEXT NOT NULL REFERENCES training_group (id),
    document TEXT NOT NULL,
    sent_at TEXT NOT NULL
);

-- One dated class. Rows come from the timetable, twelve weeks ahead.
CREATE TABLE session (
    id TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    plan_id TEXT NOT NULL REFERENCES plan (id),
    slot TEXT NOT NULL,                       -- the timetable's local start that it stands for
    starts_at TEXT NOT NULL,
    ends_at TEXT NOT NULL,
    local_day TEXT NOT NULL,
    moved_at TEXT,
    cancelled_at TEXT,
    UNIQUE (group_id, slot)
);
CREATE INDEX session_by_start ON session (group_id, starts_at);

-- What has to happen because time passes; done or knowingly dropped, once.
CREATE TABLE due (
    kind TEXT NOT NULL CHECK (kind IN ('digest', 'prompt', 'reminder')),
    session_id TEXT NOT NULL REFERENCES session (id),
    at TEXT NOT NULL,
    not_after TEXT NOT NULL,
    done_at TEXT,
    dropped_at TEXT,
    PRIMARY KEY (kind, session_id)
);
CREATE INDEX due_open ON due (at) WHERE done_at IS NULL AND dropped_at IS NULL;

-- What each member was told to do in a session, frozen with its digest; pruned after a month.
CREATE TABLE advice (
    session_id TEXT NOT NULL REFERENCES session (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    document TEXT NOT NULL,
    made_at TEXT NOT NULL,
    PRIMARY KEY (session_id, person_id)
);

-- The questions one member gets about one session.
CREATE TABLE prompt (
    id TEXT PRIMARY KEY,
    session_id TEXT NOT NULL REFERENCES session (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    told TEXT NOT NULL,                       -- JSON: the whole class as this member was told it
    asked TEXT NOT NULL,                      -- JSON: the movements asked about, each with its dose
    showing TEXT,                             -- the question on screen; NULL when all is said
    letter TEXT NOT NULL,                     -- the outbox letter that shows it
    opened_at TEXT NOT NULL,
    UNIQUE (session_id, person_id)
);
CREATE INDEX prompt_of_person ON prompt (person_id, opened_at);

-- What they answered: the truth that ratings, bouts and symptoms are read from.
CREATE TABLE answer (
    prompt_id TEXT NOT NULL REFERENCES prompt (id),
    question TEXT NOT NULL,
    number REAL,
    word TEXT,
    said_at TEXT NOT NULL,
    said_in BIGINT NOT NULL,                  -- the update that said it: of two, the later counts
    PRIMARY KEY (prompt_id, question),
    CHECK ((number IS NULL) <> (word IS NULL))
);

-- Something that hurt or felt wrong; open until the member and an instructor clear it.
CREATE TABLE symptom (
    id TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    session_id TEXT REFERENCES session (id),
    kind TEXT NOT NULL CHECK (kind IN ('soreness', 'pain', 'warning')),
    movement TEXT,
    said_on TEXT NOT NULL,
    said_at TEXT NOT NULL,
    withdrawn_at TEXT,
    cleared_by_member TEXT,
    cleared_by_instructor TEXT
);
CREATE INDEX symptom_of_group ON symptom (group_id, person_id);

-- What the instructor should know about a member; one row per cause.
CREATE TABLE alert (
    id TEXT PRIMARY KEY,
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    kind TEXT NOT NULL,
    document TEXT NOT NULL,                   -- JSON: the evidence
    symptom_id TEXT REFERENCES symptom (id),
    raised_at TEXT NOT NULL,
    acknowledged_at TEXT,
    acknowledged_by TEXT REFERENCES person (id),
    resolved_at TEXT
);
CREATE INDEX alert_open ON alert (group_id) WHERE acknowledged_at IS NULL AND resolved_at IS NULL;
