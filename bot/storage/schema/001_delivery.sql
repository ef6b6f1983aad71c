-- What came in and what must go out. Moments are text in UTC, 20 characters, compared as text.

-- One row per update of the chat API. It comes before the update is acknowledged; when it has been
-- handled only its key stays, so that the same update is not handled twice; old keys are pruned.
CREATE TABLE inbox (
    update_id   BIGINT PRIMARY KEY,     -- may restart at any number: says "the same", never "later"
    arrival     INTEGER NOT NULL,       -- counts up in the order of arrival
    person_key  TEXT NOT NULL,          -- whom it is from: one person's updates keep their order
    document    TEXT NOT NULL,          -- the update as JSON; emptied once it is handled
    received_at TEXT NOT NULL CHECK (length(received_at) = 20),
    tries       INTEGER NOT NULL DEFAULT 0 CHECK (tries >= 0),
    retry_at    TEXT CHECK (length(retry_at) = 20),
    done_at     TEXT CHECK (length(done_at) = 20),
    parked_at   TEXT CHECK (length(parked_at) = 20),
    problem     TEXT,                   -- why it was parked: a kind of failure, never contents
    CHECK (done_at IS NULL OR parked_at IS NULL)
);
CREATE INDEX inbox_arrival ON inbox (arrival);
CREATE INDEX inbox_waiting ON inbox (person_key, arrival)
    WHERE done_at IS NULL AND parked_at IS NULL;

-- When something that beats regularly last did, such as asking the chat API for updates.
CREATE TABLE pulse (
    name TEXT PRIMARY KEY,
    at   TEXT NOT NULL CHECK (length(at) = 20)
);

-- One row per message that must be sent, written in the same transaction as its reason. What it
-- said is emptied once it has been sent; old rows that have ended are pruned.
CREATE TABLE outbox (
    id          TEXT PRIMARY KEY,       -- names the reason, so that twice is once
    sequence    INTEGER NOT NULL,       -- counts up: a chat's letters keep this order
    chat        BIGINT NOT NULL,
    method      TEXT NOT NULL,          -- of the Bot API
    arguments   TEXT NOT NULL,          -- JSON, without chat_id
    file        BLOB,
    file_name   TEXT,
    file_field  TEXT,                   -- the argument that the file is
    priority    INTEGER NOT NULL CHECK (priority BETWEEN 0 AND 3),
    kind        TEXT NOT NULL CHECK (kind IN ('alert', 'prompt', 'digest', 'confirmation')),
    not_before  TEXT CHECK (length(not_before) = 20),  -- until then others may overtake it
    retry_at    TEXT CHECK (length(retry_at) = 20),    -- until then the rest of the chat waits too
    not_after   TEXT CHECK (length(not_after) = 20),   -- later than this it helps nobody
    edits       TEXT,                   -- id of the letter whose message this one changes
    anew        INTEGER NOT NULL CHECK (anew IN (0, 1)),  -- may be sent as a message of its own
    slot        TEXT,                   -- a newer letter for the same slot replaces an unsent one
    if_repeated TEXT,                   -- a line to add when it may have arrived before
    state       TEXT NOT NULL DEFAULT 'queued' CHECK (state IN (
        'queued', 'sending',            -- on its way
        'sent', 'failed', 'dropped', 'superseded', 'uncertain'  -- ended
    )),
    tries       INTEGER NOT NULL DEFAULT 0 CHECK (tries >= 0),
    doubts      INTEGER NOT NULL DEFAULT 0 CHECK (doubts >= 0),  -- sends that may have arrived
    message_id  BIGINT,
    reason      TEXT,                   -- why it failed or was dropped
    queued_at   TEXT NOT NULL CHECK (length(queued_at) = 20),
    tried_at    TEXT CHECK (length(tried_at) = 20),
    ended_at    TEXT CHECK (length(ended_at) = 20),
    CHECK ((state IN ('queued', 'sending')) = (ended_at IS NULL)),
    CHECK ((file IS NULL) OR (file_field IS NOT NULL AND file_name IS NOT NULL))
);
CREATE INDEX outbox_sequence ON outbox (sequence);
CREATE INDEX outbox_open ON outbox (chat, sequence) WHERE state IN ('queued', 'sending');
CREATE INDEX outbox_tried ON outbox (tried_at);

-- Chats that can't be written to. A row comes with the refusal, and goes with the next message
-- from that chat.
CREATE TABLE unreachable (
    chat   BIGINT PRIMARY KEY,
    since  TEXT NOT NULL CHECK (length(since) = 20),
    reason TEXT NOT NULL
);

-- Chats that the chat API asked us to leave alone for a while; chat 0 is everybody.
CREATE TABLE chat_pause (
    chat       BIGINT PRIMARY KEY,
    ends_at    TEXT NOT NULL CHECK (length(ends_at) = 20)
);
