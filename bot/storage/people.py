"""People the bot knows: members and instructors, by their account in the chat."""

from dataclasses import dataclass, field, replace
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row
from bot.storage.preferences import Preferences, read_preferences


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Someone who has claimed the bot, joined a group, or leads one."""

    id: str
    account: int
    """The chat API's number for them, also of their private chat."""
    name: str
    chat_language: str | None
    """Of their chat, such as `de` or `pt-BR`; None if it isn't known."""
    is_owner: bool
    """Whether they claimed the bot, and so may make groups."""
    preferences: Preferences = field(default_factory=Preferences)

    @property
    def language(self) -> str | None:
        """What they chose, or else what their chat is set to."""
        return self.preferences.language or self.chat_language


async def person_of_account(tx: Transaction, account: int) -> Person | None:
    """The person behind an account; None for a stranger."""
    row = await tx.one("SELECT * FROM person WHERE account = :account", account=account)
    return None if row is None else read_person(row)


async def people_by_id(tx: Transaction, group_id: str) -> dict[str, Person]:
    """Everyone who ever had to do with a group, by id, as its instructors call them."""
    rows = await tx.all(
        """
        SELECT person.*, membership.called FROM (
            SELECT person_id FROM membership WHERE group_id = :group_id
            UNION SELECT person_id FROM leading WHERE group_id = :group_id
            UNION SELECT acknowledged_by FROM alert WHERE group_id = :group_id
        ) AS known JOIN person ON person.id = known.person_id LEFT JOIN membership
        ON membership.person_id = person.id AND membership.group_id = :group_id
        """,
        group_id=group_id,
    )
    return {row["id"]: read_as_called(row) for row in rows}


async def as_called(tx: Transaction, person: Person, group_id: str) -> Person:
    """This person as the instructors of a group call them."""
    called = await tx.value(
        "SELECT called FROM membership WHERE group_id = :group_id AND person_id = :id",
        group_id=group_id,
        id=person.id,
    )
    return person if called is None else replace(person, name=called)


async def remember(
    tx: Transaction, account: int, name: str, language: str | None, now: datetime
) -> Person:
    """Know this person from now on, under the name they go by now."""
    await tx.execute(
        """
        INSERT INTO person (id, account, name, language, met_at)
        VALUES (:id, :account, :name, :language, :now)
        ON CONFLICT (account) DO UPDATE SET name = excluded.name, language = excluded.language
        """,
        id=name_row("person", account),
        account=account,
        name=name,
        language=language,
        now=write_moment(now),
    )
    found = await person_of_account(tx, account)
    if found is None:
        raise LookupError("a person who was just remembered")
    return found


async def follow(tx: Transaction, person: Person, name: str, language: str | None) -> Person:
    """The person as they are in the chat now, where they may have changed name or language."""
    if (person.name, person.chat_language) == (name, language):
        return person
    await tx.execute(
        "UPDATE person SET name = :name, language = :language WHERE id = :id",
        id=person.id,
        name=name,
        language=language,
    )
    return replace(person, name=name, chat_language=language)


async def has_owner(tx: Transaction) -> bool:
    """Whether somebody has claimed the bot."""
    return await tx.one("SELECT 1 FROM person WHERE owner_since IS NOT NULL") is not None


async def claim(tx: Transaction, person: Person, now: datetime) -> None:
    """Make this person the owner; the caller has checked that there is none."""
    await tx.execute(
        "UPDATE person SET owner_since = :now WHERE id = :id", id=person.id, now=write_moment(now)
    )


async def note_wrong_code(tx: Transaction, account: int, update_id: int, now: datetime) -> None:
    """Count one wrong code against this account."""
    await tx.execute(
        """
        INSERT INTO wrong_code (account, update_id, tried_at) VALUES (:account, :update_id, :now)
        ON CONFLICT (account, update_id) DO NOTHING
        """,
        account=account,
        update_id=update_id,
        now=write_moment(now),
    )


async def wrong_codes(tx: Transaction, account: int, since: datetime) -> int:
    """How many wrong codes this account has tried since then."""
    row = await tx.one(
        "SELECT count(*) AS tries FROM wrong_code WHERE account = :account AND tried_at >= :since",
        account=account,
        since=write_moment(since),
    )
    return 0 if row is None else int(row["tries"])


async def forget_wrong_codes(tx: Transaction, before: datetime) -> None:
    """Drop what is too old to count."""
    await tx.execute("DELETE FROM wrong_code WHERE tried_at < :before", before=write_moment(before))


def read_person(row: Row) -> Person:
    """A row of `person` as a value."""
    return Person(
        id=row["id"],
        account=row["account"],
        name=row["name"],
        chat_language=row["language"],
        is_owner=row["owner_since"] is not None,
        preferences=read_preferences(row),
    )


def read_as_called(row: Row) -> Person:
    """The same, from a row with `called`, the name that a group's instructors have for them."""
    person = read_person(row)
    return person if row["called"] is None else replace(person, name=row["called"])
