"""Erases a person: every row about them, and every letter that names them."""

import json
import re
from dataclasses import dataclass
from datetime import datetime
from html import escape

from bot.storage.database import Transaction
from bot.storage.editions import unsaid_by
from bot.storage.moments import write_moment
from bot.storage.people import Person
from bot.storage.pulse import forget_beat, refresher_beat
from bot.storage.reach import forget_chat
from bot.storage.remembered import forget_histories

OF_A_PERSON = (
    "alert_noting",
    "alert",  # before the symptoms that alerts are about
    "symptom",
    "advice",
    "verdict",
    "estimate",
    "asking",
    "dialogue",
    "pause",
    "upload",
    "calendar_upload",
    "class_typing",
    "draft",
    "chat_offer",
    "note",
    "attendance",
    "entrusting",
    "substitute",
    "jotting",
    "export",
    "prompt",
    "membership",
    "leading",
)
"""Tables with a `person_id`, in an order in which nothing refers to what is gone already."""
OF_AN_ACCOUNT = ("joining", "wrong_code", "entrusting")
"""Tables with an `account` besides `person`."""
NOBODY = "nobody"
"""In the place of whoever an update was from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Erased:
    """How much was there, for the receipt."""

    groups: int
    classes: int
    answers: int
    symptoms: int


async def erase_person(
    tx: Transaction, person: Person, now: datetime, *, update_id: int | None = None
) -> Erased:
    """Remove everything about this person from every table.

    `update_id` is the update that asked for it: those that come after it are handled as a
    stranger's. None, after a backup was restored, leaves none of theirs to handle.
    """
    erased = await _count(tx, person.id)
    await _forget_letters(tx, person)
    await unsaid_by(tx, person.id)
    forget_histories()
    await tx.execute(
        "DELETE FROM answer WHERE prompt_id IN (SELECT id FROM prompt WHERE person_id = :id)",
        id=person.id,
    )
    await tx.execute(
        "UPDATE alert SET acknowledged_by = NULL WHERE acknowledged_by = :id", id=person.id
    )
    await tx.execute("UPDATE alert SET cleared_by = NULL WHERE cleared_by = :id", id=person.id)
    await tx.execute("UPDATE note SET written_by = NULL WHERE written_by = :id", id=person.id)
    await tx.execute("DELETE FROM jotting WHERE about = :id", id=person.id)
    for table in OF_A_PERSON:
        await tx.execute(f"DELETE FROM {table} WHERE person_id = :id", id=person.id)  # noqa: S608 - our own
    for table in OF_AN_ACCOUNT:
        sql = f"DELETE FROM {table} WHERE account = :account"  # noqa: S608 - our own
        await tx.execute(sql, account=person.account)
    await forget_beat(tx, refresher_beat(person.id))
    await tx.execute("DELETE FROM person WHERE id = :id", id=person.id)
    await tx.execute(
        """
        UPDATE inbox SET person_key = :nobody, document = '{}',
            done_at = CASE WHEN parked_at IS NULL THEN COALESCE(done_at, :now) END
        WHERE person_key = :key AND (
            :update_id IS NULL OR done_at IS NOT NULL OR parked_at IS NOT NULL
        )
        """,
        nobody=NOBODY,
        key=f"from {person.account}",
        update_id=update_id,
        now=write_moment(now),
    )
    await tx.execute(
        "UPDATE inbox SET person_key = :nobody, document = '{}' WHERE update_id = :update_id",
        nobody=NOBODY,
        update_id=update_id,
    )
    return erased


async def _count(tx: Transaction, person_id: str) -> Erased:
    async def count(sql: str) -> int:
        return int(await tx.value(sql, id=person_id))

    return Erased(
        groups=await count("SELECT count(*) FROM membership WHERE person_id = :id"),
        classes=await count("SELECT count(*) FROM prompt WHERE person_id = :id"),
        answers=await count(
            """
            SELECT count(*) FROM answer JOIN prompt ON prompt.id = prompt_id
            WHERE person_id = :id
            """
        ),
        symptoms=await count("SELECT count(*) FROM symptom WHERE person_id = :id"),
    )


async def _forget_letters(tx: Transaction, person: Person) -> None:
    """Letters to them, about them, and those still on their way that name them."""
    await forget_chat(tx, person.account)
    alerts = await tx.all("SELECT id FROM alert WHERE person_id = :id", id=person.id)
    for reason in (person.id, *(row["id"] for row in alerts)):
        await tx.execute("DELETE FROM outbox WHERE id LIKE :reason", reason=f"%{reason}%")
    await tx.execute(
        """
        UPDATE outbox SET arguments = '{}', file = NULL
        WHERE ended_at IS NOT NULL AND arguments <> '{}'
        """
    )
    called = await tx.all("SELECT called FROM membership WHERE person_id = :id", id=person.id)
    names = {person.name, *(row["called"] for row in called if row["called"] is not None)}
    either = "|".join(re.escape(escape(each, quote=False)) for each in sorted(names))
    name = re.compile(rf"(?<!\w)(?:{either})(?!\w)")
    for row in await tx.all("SELECT id, arguments FROM outbox WHERE ended_at IS NULL"):
        said = json.loads(row["arguments"])
        if any(name.search(str(said.get(part, ""))) for part in ("text", "caption")):
            await tx.execute("DELETE FROM outbox WHERE id = :id", id=row["id"])
