-- The chat in which the people of a group talk. A row comes when an instructor links it, and goes
-- when one unlinks it. Two groups may share a chat that has topics, each with a topic of its own.
CREATE TABLE group_chat (
    group_id TEXT PRIMARY KEY REFERENCES training_group (id),
    chat BIGINT NOT NULL,
    thread BIGINT NOT NULL,                   -- the topic; 0 where there is none
    title TEXT NOT NULL CHECK (length(title) <= 64),
    address TEXT NOT NULL,                    -- of the bot's private chat, as a link
    linked_at TEXT NOT NULL CHECK (length(linked_at) = 20),
    lost_at TEXT CHECK (length(lost_at) = 20),  -- it refused us, and the instructors know
    UNIQUE (chat, thread)
);

-- An instructor was asked whose chat this is; pruned after a month.
CREATE TABLE chat_offer (
    id TEXT PRIMARY KEY,
    person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
    chat BIGINT NOT NULL,
    thread BIGINT NOT NULL,
    title TEXT NOT NULL CHECK (length(title) <= 64),
    offered_at TEXT NOT NULL CHECK (length(offered_at) = 20)
);
CREATE INDEX chat_offer_of_person ON chat_offer (person_id);

-- The question about one session that stands in the group's chat. It says nothing about anybody.
CREATE TABLE shared_question (
    id TEXT PRIMARY KEY,
    session_id TEXT NOT NULL UNIQUE REFERENCES session (id),
    letter TEXT NOT NULL,                     -- the outbox letter that shows it
    asked_at TEXT NOT NULL CHECK (length(asked_at) = 20),
    shown INTEGER NOT NULL CHECK (shown >= 0),               -- the count it shows; 0 shows none
    invites_left INTEGER NOT NULL CHECK (invites_left >= 0)  -- links for those not on the roster
);
