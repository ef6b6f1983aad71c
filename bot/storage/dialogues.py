"""Questions to a person that aren't about a class, with what they are about."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, write_moment
from bot.storage.names import name_row

# Asked at every press, and hardly ever so.
TYPING = """
SELECT 1 WHERE EXISTS (
    SELECT 1 FROM dialogue WHERE person_id = :id AND typing_since IS NOT NULL
) OR EXISTS (SELECT 1 FROM draft WHERE person_id = :id AND typing_since IS NOT NULL)
OR EXISTS (SELECT 1 FROM alert_noting WHERE person_id = :id)
OR EXISTS (SELECT 1 FROM jotting WHERE person_id = :id)
OR EXISTS (SELECT 1 FROM class_typing WHERE person_id = :id)
"""


class DialogueKind(StrEnum):
    """What a question is about."""

    PAUSE = "pause"
    HURT = "hurt"
    ERASE = "erase"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dialogue:
    """One question that is open; its buttons name it by its id."""

    id: str
    person_id: str
    kind: DialogueKind
    typing_since: datetime | None
    """Since when whatever is typed answers it; None if only its buttons do."""


async def open_dialogue(
    tx: Transaction,
    person_id: str,
    kind: DialogueKind,
    update_id: int,
    now: datetime,
    *,
    typing: bool = False,
) -> str:
    """Ask anew; an older question of that kind is closed, and typing is for the newest."""
    dialogue_id = name_row("dialogue", person_id, kind, update_id)
    await tx.execute(
        "DELETE FROM dialogue WHERE person_id = :person_id AND kind = :kind",
        person_id=person_id,
        kind=kind.value,
    )
    await stop_typing(tx, person_id)
    await tx.execute(
        """
        INSERT INTO dialogue (id, person_id, kind, asked_at, typing_since)
        VALUES (:id, :person_id, :kind, :now, CASE WHEN :typing = 1 THEN :now END)
        """,
        id=dialogue_id,
        person_id=person_id,
        kind=kind.value,
        typing=int(typing),
        now=write_moment(now),
    )
    return dialogue_id


async def dialogue(tx: Transaction, dialogue_id: str) -> Dialogue | None:
    """The question with this id, if it's open still; whose it is, is for the caller to check."""
    row = await tx.one("SELECT * FROM dialogue WHERE id = :id", id=dialogue_id)
    return None if row is None else _dialogue(row)


async def dialogue_of(tx: Transaction, dialogue_id: str, person_id: str) -> Dialogue | None:
    """The same, if it's this person's: nobody learns of anybody else's."""
    found = await dialogue(tx, dialogue_id)
    return found if found is not None and found.person_id == person_id else None


async def typing_answers(tx: Transaction, person_id: str) -> Dialogue | None:
    """The question that this person answers by typing just now; None if there is none."""
    row = await tx.one(
        "SELECT * FROM dialogue WHERE person_id = :person_id AND typing_since IS NOT NULL",
        person_id=person_id,
    )
    return None if row is None else _dialogue(row)


async def stop_typing(tx: Transaction, person_id: str) -> None:
    """Something newer is on screen: what is typed no longer answers a dialogue."""
    if await tx.value(TYPING, id=person_id) is None:
        return
    await tx.execute(
        "UPDATE dialogue SET typing_since = NULL WHERE person_id = :person_id",
        person_id=person_id,
    )
    await tx.execute("DELETE FROM alert_noting WHERE person_id = :id", id=person_id)
    await tx.execute("DELETE FROM jotting WHERE person_id = :person_id", person_id=person_id)
    await tx.execute("UPDATE draft SET typing_since = NULL WHERE person_id = :id", id=person_id)
    await tx.execute("DELETE FROM class_typing WHERE person_id = :id", id=person_id)


async def end_dialogue(tx: Transaction, dialogue_id: str) -> None:
    """It has been answered."""
    await tx.execute("DELETE FROM dialogue WHERE id = :id", id=dialogue_id)


async def end_dialogues(tx: Transaction, person_id: str) -> bool:
    """Drop whatever is open with this person; true if anything was."""
    ended = await tx.execute("DELETE FROM dialogue WHERE person_id = :id", id=person_id)
    ended += await tx.execute("DELETE FROM alert_noting WHERE person_id = :id", id=person_id)
    ended += await tx.execute("DELETE FROM jotting WHERE person_id = :id", id=person_id)
    ended += await tx.execute("DELETE FROM class_typing WHERE person_id = :id", id=person_id)
    return ended > 0


async def forget_dialogues(tx: Transaction, before: datetime) -> None:
    """Drop what nobody answered."""
    await tx.execute("DELETE FROM dialogue WHERE asked_at < :before", before=write_moment(before))


def _dialogue(row: Row) -> Dialogue:
    return Dialogue(
        id=row["id"],
        person_id=row["person_id"],
        kind=DialogueKind(row["kind"]),
        typing_since=read_maybe(row["typing_since"]),
    )
