"""Members of groups: invited, asked for consent, joined, left."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.groups import Group, group
from bot.storage.moments import write_moment
from bot.storage.names import name_row
from bot.storage.people import Person, read_as_called


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """Someone has used an invite and is reading what they would agree to."""

    id: str
    account: int
    group_id: str
    invite: str
    """Fingerprint of the code they used."""


async def make_invite(
    tx: Transaction,
    group_id: str,
    fingerprint: str,
    *,
    uses: int,
    now: datetime,
    until: datetime,
    called: str | None = None,
) -> None:
    """Let whoever has the code join until then, so many times; `called` is whom it is for."""
    await tx.execute(
        """
        INSERT INTO invite (fingerprint, group_id, made_at, expires_at, uses_left, called)
        VALUES (:fingerprint, :group_id, :now, :until, :uses, :called)
        """,
        called=called,
        fingerprint=fingerprint,
        group_id=group_id,
        now=write_moment(now),
        until=write_moment(until),
        uses=uses,
    )


async def revoke_invites(tx: Transaction, group_id: str, now: datetime) -> None:
    """Close every way into a group that is open now, but for the links for one person."""
    await tx.execute(
        """
        UPDATE invite SET revoked_at = :now
        WHERE group_id = :group_id AND revoked_at IS NULL AND called IS NULL
        """,
        group_id=group_id,
        now=write_moment(now),
    )


async def invited_to(tx: Transaction, fingerprint: str, now: datetime) -> Group | None:
    """The group that a code opens now; None if it is wrong, expired, used up or revoked."""
    row = await tx.one(
        """
        SELECT group_id FROM invite WHERE fingerprint = :fingerprint
        AND expires_at > :now AND uses_left > 0 AND revoked_at IS NULL
        """,
        fingerprint=fingerprint,
        now=write_moment(now),
    )
    return None if row is None else await group(tx, row["group_id"])


def name_joining(account: int, group_id: str) -> str:
    """The id of what this account reads before it joins that group, whenever it does."""
    return name_row("joining", account, group_id)


async def start_joining(
    tx: Transaction, account: int, group_id: str, invite: str, now: datetime
) -> str:
    """Remember that this account is reading the terms of that group; the id goes on the button."""
    joining_id = name_joining(account, group_id)
    await tx.execute(
        """
        INSERT INTO joining (id, account, group_id, invite, asked_at)
        VALUES (:id, :account, :group_id, :invite, :now)
        ON CONFLICT (id) DO UPDATE SET invite = excluded.invite, asked_at = excluded.asked_at
        """,
        id=joining_id,
        account=account,
        group_id=group_id,
        invite=invite,
        now=write_moment(now),
    )
    return joining_id


async def joining_of(tx: Transaction, joining_id: str, account: int) -> Joining | None:
    """The joining with this id, if it is this account's."""
    row = await tx.one(
        "SELECT * FROM joining WHERE id = :id AND account = :account",
        id=joining_id,
        account=account,
    )
    if row is None:
        return None
    return Joining(
        id=row["id"], account=row["account"], group_id=row["group_id"], invite=row["invite"]
    )


async def end_joining(tx: Transaction, joining_id: str) -> None:
    """They have answered."""
    await tx.execute("DELETE FROM joining WHERE id = :id", id=joining_id)


async def forget_joining(tx: Transaction, before: datetime) -> None:
    """Drop those who read the terms and never answered."""
    await tx.execute("DELETE FROM joining WHERE asked_at < :before", before=write_moment(before))


async def join(tx: Transaction, person: Person, joining: Joining, now: datetime) -> None:
    """Make this person a member from now on, and count the invite as used.

    A link for one person brings along what the instructors call them.
    """
    await tx.execute(
        """
        INSERT INTO membership (group_id, person_id, agreed_at, called)
        VALUES (:group_id, :person_id, :now, (
            SELECT called FROM invite WHERE fingerprint = :fingerprint
        ))
        ON CONFLICT (group_id, person_id) DO UPDATE
        SET agreed_at = excluded.agreed_at, left_at = NULL, removed_at = NULL,
            called = COALESCE(excluded.called, membership.called)
        """,
        group_id=joining.group_id,
        person_id=person.id,
        fingerprint=joining.invite,
        now=write_moment(now),
    )
    await tx.execute(
        """
        UPDATE invite SET uses_left = uses_left - 1,
            called = CASE WHEN uses_left > 1 THEN called END
        WHERE fingerprint = :fingerprint
        """,
        fingerprint=joining.invite,
    )


async def members(tx: Transaction, group_id: str) -> tuple[Person, ...]:
    """Who takes part now, as the instructors call them, in the order they joined."""
    rows = await tx.all(
        """
        SELECT person.*, membership.called
        FROM person JOIN membership ON membership.person_id = person.id
        WHERE membership.group_id = :group_id AND membership.left_at IS NULL
        ORDER BY membership.agreed_at, person.name, person.id
        """,
        group_id=group_id,
    )
    return tuple(map(read_as_called, rows))


async def members_before(tx: Transaction, group_id: str, moment: datetime) -> frozenset[str]:
    """Who takes part now and had joined before that moment, by person id."""
    rows = await tx.all(
        """
        SELECT person_id FROM membership
        WHERE group_id = :group_id AND left_at IS NULL AND agreed_at < :moment
        """,
        group_id=group_id,
        moment=write_moment(moment),
    )
    return frozenset(row["person_id"] for row in rows)


async def groups_of(tx: Transaction, person: Person) -> tuple[Group, ...]:
    """The groups that this person takes part in now."""
    rows = await tx.all(
        """
        SELECT group_id FROM membership WHERE person_id = :person_id AND left_at IS NULL
        ORDER BY agreed_at, group_id
        """,
        person_id=person.id,
    )
    return tuple([await group(tx, row["group_id"]) for row in rows])
