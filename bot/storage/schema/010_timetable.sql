-- Timetables from calendar files, and what is done to single classes by hand.
-- Moments are UTC text of 20 characters.

-- The event of a calendar file that a class stands for: of UID and RECURRENCE-ID; NULL if it
-- stands for none.
ALTER TABLE session ADD COLUMN event TEXT;

-- Since when a class is as an instructor has made it in the chat: moved, cancelled or added. The
-- timetable leaves it alone. NULL: it is as its timetable has it.
ALTER TABLE session ADD COLUMN by_hand_at TEXT CHECK (length(by_hand_at) = 20);
UPDATE session SET by_hand_at = COALESCE(cancelled_at, moved_at)
    WHERE cancelled_at IS NOT NULL OR moved_at IS NOT NULL;
CREATE UNIQUE INDEX session_event ON session (group_id, event);

-- A group's timetable that was taken from a calendar file. It counts for as long as the group's
-- plan names the same times as when it was taken: the newer word is the one that counts.
CREATE TABLE calendar (
    group_id TEXT PRIMARY KEY REFERENCES training_group (id),
    document TEXT NOT NULL,                   -- iCalendar: when classes are, and nothing else
    instead_of TEXT NOT NULL,                 -- the times in the plan that it stands in for
    taken_at TEXT NOT NULL CHECK (length(taken_at) = 20)
);

-- A calendar file whose sender is being asked about it; goes with the answer, or after a day.
CREATE TABLE calendar_upload (
    id TEXT PRIMARY KEY,
    person_id TEXT NOT NULL REFERENCES person (id),
    group_id TEXT REFERENCES training_group (id),  -- NULL: that is the question
    document TEXT NOT NULL,
    sent_at TEXT NOT NULL CHECK (length(sent_at) = 20)
);
CREATE INDEX calendar_upload_person ON calendar_upload (person_id);

-- An instructor is about to type when a class is to be. Goes with what they type, or with whatever
-- newer is on their screen.
CREATE TABLE class_typing (
    person_id TEXT PRIMARY KEY REFERENCES person (id),
    group_id TEXT NOT NULL REFERENCES training_group (id),
    session_id TEXT,                          -- the class to move; NULL: one to add
    asked_at TEXT NOT NULL CHECK (length(asked_at) = 20)
);
