-- What is asked often is found by an index, however much there is.
CREATE INDEX inbox_open ON inbox (arrival) WHERE done_at IS NULL AND parked_at IS NULL;
CREATE INDEX outbox_message ON outbox (chat, message_id) WHERE message_id IS NOT NULL;
CREATE INDEX advice_of_person ON advice (person_id);
CREATE INDEX alert_of_group ON alert (group_id, raised_at);
CREATE INDEX alert_of_symptom ON alert (symptom_id) WHERE symptom_id IS NOT NULL;
CREATE INDEX alert_again ON alert (again_at) WHERE again_at IS NOT NULL;
