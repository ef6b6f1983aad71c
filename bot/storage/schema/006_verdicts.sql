-- Too hard or too easy today: said during class, about one movement as the member was told it.
CREATE TABLE verdict (
    session_id TEXT NOT NULL REFERENCES session (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    movement TEXT NOT NULL,
    dose TEXT NOT NULL,                       -- JSON
    word TEXT NOT NULL CHECK (word IN ('hard', 'easy')),
    said_at TEXT NOT NULL,
    PRIMARY KEY (session_id, person_id, movement)
);
