-- How much somebody has sent of late, without what was put away unread.
CREATE INDEX inbox_of_late ON inbox (person_key, received_at) WHERE problem IS NULL;
