-- What members think they could just do of a movement's standard variation; the latest counts.
CREATE TABLE estimate (
    group_id TEXT NOT NULL REFERENCES training_group (id),
    person_id TEXT NOT NULL REFERENCES person (id),
    movement TEXT NOT NULL,
    amount REAL NOT NULL CHECK (amount >= 0),  -- seconds, repetitions or minutes
    load REAL,                                -- kilograms; NULL where the measure isn't a load
    said_on TEXT NOT NULL,
    PRIMARY KEY (group_id, person_id, movement)
);
