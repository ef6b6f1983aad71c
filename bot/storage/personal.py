"""Everything that is stored about one person, and nothing about anybody else."""

import json
from typing import Any

from bot.storage.database import Row, Transaction
from bot.storage.people import Person
from core.questions import Question

Record = dict[str, Any]

PERSON = """
SELECT account, name, language AS chat_language, met_at, owner_since FROM person WHERE id = :id
"""
SETTINGS = """
SELECT chosen_language, scale, asked, no_reminder_since, quiet_from, quiet_until, heart_rate_since
FROM person WHERE id = :id
"""
PAUSE = "SELECT since, ends_at FROM pause WHERE person_id = :id"
GROUPS = """
SELECT g.name AS "group", agreed_at, left_at, called AS name_there FROM membership
JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY agreed_at
"""
LEADING = """
SELECT g.name AS "group", since FROM leading
JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY since
"""
CLASSES = """
SELECT prompt.id, g.name AS "group", local_day AS day, opened_at AS asked_at, told, asked
FROM prompt JOIN session ON session.id = session_id JOIN training_group AS g ON g.id = group_id
WHERE person_id = :id ORDER BY starts_at
"""
ANSWERS = """
SELECT prompt_id, question, number, on_6_20, word, said_at FROM answer
JOIN prompt ON prompt.id = prompt_id WHERE person_id = :id ORDER BY said_at, question
"""
SYMPTOMS = """
SELECT g.name AS "group", kind, movement, said_on AS day, said_at, withdrawn_at,
    cleared_by_member, cleared_by_instructor
FROM symptom JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY said_at
"""
ALERTS = """
SELECT g.name AS "group", kind, document, raised_at, acknowledged_at AS seen_at,
    resolved_at AS over_at, alert.cleared_at, note
FROM alert JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY raised_at
"""
SUGGESTIONS = """
SELECT g.name AS "group", local_day AS day, document, advice.made_at
FROM advice JOIN session ON session.id = session_id JOIN training_group AS g ON g.id = group_id
WHERE person_id = :id ORDER BY starts_at
"""
VERDICTS = """
SELECT g.name AS "group", local_day AS day, movement, dose, word, said_at
FROM verdict JOIN session ON session.id = session_id JOIN training_group AS g ON g.id = group_id
WHERE person_id = :id ORDER BY said_at
"""
ESTIMATES = """
SELECT g.name AS "group", movement, amount, load, said_on AS day
FROM estimate JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY said_on
"""
ATTENDANCE = """
SELECT g.name AS "group", local_day AS day, word, noted_at
FROM attendance JOIN session ON session.id = session_id
JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY starts_at
"""
NOTES = """
SELECT g.name AS "group", text, written_at FROM note
JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY written_at
"""
SUBSTITUTING = """
SELECT g.name AS "group", local_day AS day, since FROM substitute
JOIN session ON session.id = session_id JOIN training_group AS g ON g.id = group_id
WHERE person_id = :id ORDER BY starts_at
"""
LINKS = """
SELECT g.name AS "group", kind, entrusting.made_at, expires_at, used_at, revoked_at FROM entrusting
JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY entrusting.made_at
"""
EXPORTS = """
SELECT g.name AS "group", asked_at, done_at FROM export
JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY asked_at
"""
DRAFTS = """
SELECT kind, g.name AS "group", document, changed_at FROM draft
LEFT JOIN training_group AS g ON g.id = group_id WHERE person_id = :id ORDER BY kind
"""
DOCUMENTS = ("document", "dose", "told", "asked")
"""Columns that hold JSON."""


async def everything_about(tx: Transaction, person: Person) -> Record:
    """All that is stored about this person, as values that can be written as JSON."""

    async def records(sql: str) -> list[Record]:
        return [_record(row) for row in await tx.all(sql, id=person.id)]

    answers = await records(ANSWERS)
    classes = await records(CLASSES)
    for each in classes:
        prompt = each.pop("id")
        own = [answer for answer in answers if answer["prompt_id"] == prompt]
        each["answers"] = [_answer(answer, each["asked"]) for answer in own]
    return {
        "person": (await records(PERSON))[0],
        "settings": (await records(SETTINGS))[0],
        "pause": await records(PAUSE),
        "groups": await records(GROUPS),
        "groups_led": await records(LEADING),
        "classes": classes,
        "symptoms": await records(SYMPTOMS),
        "alerts": await records(ALERTS),
        "suggestions": await records(SUGGESTIONS),
        "verdicts": await records(VERDICTS),
        "estimates": await records(ESTIMATES),
        "attendance": await records(ATTENDANCE),
        "notes": await records(NOTES),
        "substituting": await records(SUBSTITUTING),
        "links_given": await records(LINKS),
        "exports": await records(EXPORTS),
        "drafts": await records(DRAFTS),
    }


def _record(row: Row) -> Record:
    record = dict(row)
    for name in DOCUMENTS:
        if isinstance(record.get(name), str) and record[name][:1] in ("[", "{"):
            record[name] = json.loads(record[name])
    return record


def _answer(answer: Record, asked: list[Record]) -> Record:
    """One answer with what it is about in words."""
    question = Question.read(answer["question"])
    about = None if question is None or question.place is None else asked[question.place]
    return {
        "question": answer["question"] if question is None else question.topic.name.lower(),
        "movement": None if about is None else about["movement"],
        "dose": None if about is None else about["dose"],
        "number": answer["number"],
        "number_from_6_to_20": answer["on_6_20"],
        "word": answer["word"],
        "said_at": answer["said_at"],
    }
