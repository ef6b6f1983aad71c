-- What was said about a class has another edition after each change, so that whoever has read it
-- needs to read it anew only then. By luck, since a number that was given in a transaction which
-- was undone would be given again. NULL: nothing was ever said about it.
ALTER TABLE session ADD COLUMN edition TEXT;
UPDATE session SET edition = '' || random()
    WHERE EXISTS (SELECT 1 FROM prompt WHERE prompt.session_id = session.id)
    OR EXISTS (SELECT 1 FROM attendance WHERE attendance.session_id = session.id)
    OR EXISTS (SELECT 1 FROM verdict WHERE verdict.session_id = session.id);
