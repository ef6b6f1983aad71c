"""When something that beats regularly last did."""

from datetime import datetime, timedelta

from bot.storage.database import Transaction
from bot.storage.moments import read_maybe, write_moment

TURN = "turn"
"""The pulse of looking for what is due."""
POLL = "poll"
"""The pulse of asking for updates."""
BACKUP = "backup"
"""The pulse of copies that somebody asked for."""
TURN_EVERY = timedelta(minutes=1)
POLL_EVERY = timedelta(seconds=1)  # moments are kept to the second


async def note_beat(tx: Transaction, name: str, now: datetime) -> None:
    """It has just done so."""
    await tx.execute(
        """
        INSERT INTO pulse (name, at) VALUES (:name, :now)
        ON CONFLICT (name) DO UPDATE SET at = excluded.at
        """,
        name=name,
        now=write_moment(now),
    )


async def note_beat_at_times(tx: Transaction, name: str, now: datetime, every: timedelta) -> None:
    """The same for what beats often: written once in a while, so that the disk may rest."""
    await tx.execute(
        """
        INSERT INTO pulse (name, at) VALUES (:name, :now) ON CONFLICT (name)
        DO UPDATE SET at = excluded.at WHERE pulse.at <= :before OR pulse.at > excluded.at
        """,
        name=name,
        now=write_moment(now),
        before=write_moment(now - every),
    )


async def last_beat(tx: Transaction, name: str) -> datetime | None:
    """When it last did; None if it never has."""
    return read_maybe(await tx.value("SELECT at FROM pulse WHERE name = :name", name=name))


async def forget_beat(tx: Transaction, name: str) -> None:
    """It never did."""
    await tx.execute("DELETE FROM pulse WHERE name = :name", name=name)


def refresher_beat(person_id: str) -> str:
    """When this person was last told that their ratings have drifted."""
    return f"refresher/{person_id}"
