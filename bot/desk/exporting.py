"""A person's data as two documents: everything as JSON, and the answers as a table."""

import csv
import io
import json
from datetime import datetime
from typing import Any

from bot.desk.letters import Errand
from bot.desk.voice import speech_to
from bot.storage.database import Transaction
from bot.storage.outbox import Attachment, Letter, queue
from bot.storage.people import Person
from bot.storage.personal import everything_about
from bot.words import mydata as words
from bot.words.speech import Html

Record = dict[str, Any]

RATINGS = ("session", "effort")
DANGEROUS = ("=", "+", "-", "@", "\t", "\r")
"""How cells begin that a spreadsheet would take for a formula."""


async def send_export(tx: Transaction, person: Person, reason: str, now: datetime) -> None:
    """Queue both documents to whom they are about."""
    speech = speech_to(person)
    data = await everything_about(tx, person)
    whole = json.dumps({"about": words.about(speech), **data}, ensure_ascii=False, indent=2)
    documents = (
        ("my-data.json", whole.encode(), words.json_caption(speech)),
        ("my-answers.csv", as_table(data).encode("utf-8-sig"), words.csv_caption(speech)),
    )
    for name, content, caption in documents:
        errand = Errand(id=f"export/{person.id}/{reason}/{name}")
        await queue(tx, _letter(person.account, name, content, caption, errand), now)


def _letter(chat: int, name: str, content: bytes, caption: Html, errand: Errand) -> Letter:
    return Letter(
        id=errand.id,
        chat=chat,
        method="sendDocument",
        arguments={"caption": caption, "parse_mode": "HTML"},  # theirs to pass on
        priority=errand.priority,
        kind=errand.kind,
        file=Attachment(field="document", name=name, content=content),
    )


def as_table(data: Record) -> str:
    """The answers, one line for each."""
    sheet = io.StringIO()
    writer = csv.writer(sheet, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(words.COLUMNS)
    for each in data["classes"]:
        for answer in each["answers"]:
            writer.writerow(map(cell, _row(each, answer)))
    return sheet.getvalue()


def _row(about: Record, answer: Record) -> tuple[object, ...]:
    dose = answer["dose"] or {}
    rating = answer["number"] if answer["question"] in RATINGS else None
    return (
        about["group"],
        about["day"],
        answer["question"],
        answer["movement"],
        dose.get("variation"),
        dose.get("amount"),
        dose.get("load"),
        dose.get("sets"),
        rating,
        answer["number_from_6_to_20"],
        answer["number"] if rating is None else None,
        answer["word"],
        answer["said_at"],
    )


def cell(value: object) -> str:
    """A cell that no spreadsheet runs."""
    text = "" if value is None else f"{value:g}" if isinstance(value, float) else str(value)
    return f"'{text}" if text.startswith(DANGEROUS) else text
