"""The roster: everyone who takes part in a group, was invited to it, or has left it."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import read_maybe, read_moment, write_moment
from bot.storage.names import name_row
from bot.storage.people import Person, read_as_called
from core.roster import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One member, or one who was."""

    person: Person
    """As the instructors call them."""
    chat_name: str
    """As they call themselves in the chat."""
    part: Part
    since: datetime
    """When they joined, or when it became so."""
    until: datetime | None
    """When a pause ends, if that is known."""
    was_removed: bool
    """By an instructor, who may undo it."""

    @property
    def takes_part(self) -> bool:
        """Whether they are a member now."""
        return self.part is not Part.LEFT


@dataclass(frozen=True, slots=True, kw_only=True)
class Invited:
    """Somebody whom a link for one person was made for."""

    id: str
    called: str
    made_at: datetime


ENTRIES = """
SELECT person.*, membership.called, membership.agreed_at, membership.left_at,
    membership.removed_at, pause.since AS paused_at, pause.ends_at AS paused_until,
    unreachable.since AS lost_at
FROM membership JOIN person ON person.id = membership.person_id
LEFT JOIN pause ON pause.person_id = person.id AND (pause.ends_at IS NULL OR pause.ends_at > :now)
LEFT JOIN unreachable ON unreachable.chat = person.account
WHERE membership.group_id = :group_id
"""


async def roster(tx: Transaction, group_id: str, now: datetime) -> tuple[Entry, ...]:
    """Everyone who takes part by name, then those who have left."""
    rows = await tx.all(ENTRIES, group_id=group_id, now=write_moment(now))
    return tuple(sorted(map(_entry, rows), key=_by_name))


async def entry(tx: Transaction, group_id: str, person_id: str, now: datetime) -> Entry | None:
    """One member of a group, or one who was; None for anybody else."""
    row = await tx.one(
        f"{ENTRIES} AND person.id = :person_id",
        group_id=group_id,
        person_id=person_id,
        now=write_moment(now),
    )
    return None if row is None else _entry(row)


async def invited(tx: Transaction, group_id: str, now: datetime) -> tuple[Invited, ...]:
    """Whom a link for one person waits for, in the order in which they were invited."""
    rows = await tx.all(
        """
        SELECT * FROM invite WHERE group_id = :group_id AND called IS NOT NULL
        AND expires_at > :now AND uses_left > 0 AND revoked_at IS NULL ORDER BY made_at, called
        """,
        group_id=group_id,
        now=write_moment(now),
    )
    return tuple(
        Invited(
            id=name_row("invite", row["fingerprint"]),
            called=row["called"],
            made_at=read_moment(row["made_at"]),
        )
        for row in rows
    )


async def take_back_invite(
    tx: Transaction, group_id: str, invite_id: str, now: datetime
) -> Invited | None:
    """Let a link for one person open nothing any more; None if it doesn't anyway."""
    rows = await tx.all(
        "SELECT fingerprint FROM invite WHERE group_id = :group_id AND called IS NOT NULL",
        group_id=group_id,
    )
    waiting = {each.id: each for each in await invited(tx, group_id, now)}
    for row in rows:
        if name_row("invite", row["fingerprint"]) == invite_id and invite_id in waiting:
            await tx.execute(
                "UPDATE invite SET revoked_at = :now, called = NULL WHERE fingerprint = :which",
                which=row["fingerprint"],
                now=write_moment(now),
            )
            return waiting[invite_id]
    return None


async def forget_invited(tx: Transaction, now: datetime) -> None:
    """Forget the names of those who didn't come: their link opens nothing any more."""
    await tx.execute(
        """
        UPDATE invite SET called = NULL
        WHERE called IS NOT NULL AND (expires_at <= :now OR uses_left = 0)
        """,
        now=write_moment(now),
    )


async def reading_terms(tx: Transaction, group_id: str) -> int:
    """How many have opened a link and neither agreed nor declined; who they are isn't kept."""
    count: int = await tx.value(
        "SELECT count(*) FROM joining WHERE group_id = :group_id", group_id=group_id
    )
    return count


async def call_member(tx: Transaction, group_id: str, person_id: str, called: str | None) -> None:
    """What the instructors call a member from now on; None: as in their chat."""
    await tx.execute(
        """
        UPDATE membership SET called = :called
        WHERE group_id = :group_id AND person_id = :person_id
        """,
        group_id=group_id,
        person_id=person_id,
        called=called,
    )


async def remove_member(tx: Transaction, group_id: str, person_id: str, now: datetime) -> bool:
    """An instructor removes a member; false if they don't take part anyway."""
    removed = await tx.execute(
        """
        UPDATE membership SET left_at = :now, removed_at = :now
        WHERE group_id = :group_id AND person_id = :person_id AND left_at IS NULL
        """,
        group_id=group_id,
        person_id=person_id,
        now=write_moment(now),
    )
    return removed > 0


async def take_back_removal(tx: Transaction, group_id: str, person_id: str) -> bool:
    """They take part again, as before; false if they weren't removed, or are back already."""
    back = await tx.execute(
        """
        UPDATE membership SET left_at = NULL, removed_at = NULL
        WHERE group_id = :group_id AND person_id = :person_id AND removed_at IS NOT NULL
        """,
        group_id=group_id,
        person_id=person_id,
    )
    return back > 0


def _entry(row: Row) -> Entry:
    part, since = _part(row)
    return Entry(
        person=read_as_called(row),
        chat_name=row["name"],
        part=part,
        since=read_moment(since),
        until=read_maybe(row["paused_until"]) if part is Part.PAUSED else None,
        was_removed=row["removed_at"] is not None,
    )


def _part(row: Row) -> tuple[Part, str]:
    if row["left_at"] is not None:
        return Part.LEFT, row["left_at"]
    if row["lost_at"] is not None:
        return Part.UNREACHABLE, row["lost_at"]
    if row["paused_at"] is not None:
        return Part.PAUSED, row["paused_at"]
    return Part.JOINED, row["agreed_at"]


def _by_name(entry: Entry) -> tuple[bool, str, str]:
    return (not entry.takes_part, entry.person.name.casefold(), entry.person.id)
