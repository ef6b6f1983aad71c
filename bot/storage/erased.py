"""Accounts that were erased stay so: unreadable fingerprints, applied to restored backups.

A fingerprint is slow to work out on purpose, since accounts are only numbers: whoever has the file
can't try them all.
"""

import hashlib
from datetime import datetime

from bot.luck import new_code
from bot.storage.database import Transaction
from bot.storage.erasure import erase_person
from bot.storage.moments import read_moment, write_moment
from bot.storage.people import read_person

COST = {"n": 2**14, "r": 8, "p": 1}  # about 50 ms and 16 MB for one account


def fingerprint_of(account: int, salt: str) -> str:
    """What is kept in place of an account."""
    return hashlib.scrypt(str(account).encode(), salt=salt.encode(), **COST).hex()


async def remember_erased(tx: Transaction, account: int, now: datetime) -> None:
    """This account was erased just now; the traces in the file are still to be swept."""
    salt = await tx.value("SELECT salt FROM erased ORDER BY erased_at LIMIT 1") or new_code()
    await tx.execute(
        """
        INSERT INTO erased (fingerprint, salt, erased_at, applied_at)
        VALUES (:fingerprint, :salt, :now, :now)
        ON CONFLICT (fingerprint) DO UPDATE
        SET erased_at = excluded.erased_at, applied_at = excluded.applied_at, swept_at = NULL
        """,
        fingerprint=fingerprint_of(account, salt),
        salt=salt,
        now=write_moment(now),
    )


async def erase_again(tx: Transaction, now: datetime) -> int:
    """Erase whoever a restored backup has brought back; says how many.

    Who has joined anew since their erasure stays.
    """
    due = await tx.all("SELECT * FROM erased WHERE applied_at IS NULL")
    if not due:
        return 0
    erased_at = {row["fingerprint"]: read_moment(row["erased_at"]) for row in due}
    found = 0
    for row in await tx.all("SELECT * FROM person"):
        for salt in {each["salt"] for each in due}:
            moment = erased_at.get(fingerprint_of(row["account"], salt))
            if moment is not None and read_moment(row["met_at"]) <= moment:
                await erase_person(tx, read_person(row), now)
                found += 1
    await tx.execute(
        "UPDATE erased SET applied_at = :now, swept_at = NULL WHERE applied_at IS NULL",
        now=write_moment(now),
    )
    return found


async def ready_to_sweep(tx: Transaction) -> bool:
    """Whether traces are left that can go now: not before the last letter to them has gone."""
    if await tx.value("SELECT 1 FROM erased WHERE swept_at IS NULL LIMIT 1") is None:
        return False
    for table in ("unreachable", "chat_pause"):
        await tx.execute(
            f"DELETE FROM {table} WHERE chat IN (SELECT chat FROM outbox WHERE passing = 1)"  # noqa: S608
        )
    await tx.execute("DELETE FROM outbox WHERE passing = 1 AND ended_at IS NOT NULL")
    return await tx.value("SELECT 1 FROM outbox WHERE passing = 1 LIMIT 1") is None


async def mark_swept(tx: Transaction, now: datetime) -> None:
    """Nothing is left in the file of whoever was erased by now."""
    await tx.execute(
        "UPDATE erased SET swept_at = :now WHERE swept_at IS NULL", now=write_moment(now)
    )
