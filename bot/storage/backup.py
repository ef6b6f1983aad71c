"""Copies of the database that can be trusted: taken while it is in use, checked, put back."""

import contextlib
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from bot.storage.copying import A_BACKUP, check, copy, flush, open_plain, refusal
from bot.storage.lock import hold_lock
from bot.storage.moments import write_moment
from bot.storage.pulse import BACKUP

LOGS = ("-wal", "-shm")
"""What SQLite keeps beside a database."""

# A backup from before anybody could be erased has no such table; its upgrade finds it made.
ERASED = """
CREATE TABLE IF NOT EXISTS erased (
    fingerprint TEXT PRIMARY KEY, salt TEXT NOT NULL, erased_at TEXT NOT NULL,
    applied_at TEXT, swept_at TEXT
)
"""
CARRY = """
INSERT INTO erased (fingerprint, salt, erased_at) VALUES (?, ?, ?)
ON CONFLICT (fingerprint) DO UPDATE
SET erased_at = max(erased_at, excluded.erased_at), applied_at = NULL, swept_at = NULL
"""
NOTE = """
INSERT INTO pulse (name, at) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET at = excluded.at
"""


def backup(
    database: Path, target: Path, *, overwrite: bool = False, now: datetime | None = None
) -> None:
    """Copy a database, in use or not, to a file that appears whole or not at all.

    `now` is when that was, so that the database knows; None leaves it as it is.
    """
    if not database.is_file():
        raise refusal(database, "there is no such file", A_BACKUP)
    if target.exists() and not overwrite:
        raise refusal(target, "the file exists", "a new name, or permission to overwrite")
    copy(database, target)
    if now is not None:
        _note(database, now)


def restore(saved: Path, database: Path) -> Path | None:
    """Put a backup in the place of a database; returns where the old one was put, if any.

    Raises BadInput for a file that is no sound backup, DatabaseTooNew for one that a newer program
    wrote, StorageTrouble where there is no room, and AlreadyRunning while the database is in use.
    """
    check(saved)
    with hold_lock(database):
        finish_restoring(database)
        fresh = _fresh(database)
        copy(saved, fresh)
        _carry_erased(database, fresh)
        kept = _put_aside(database)
        fresh.replace(database)
        flush(database.parent)
    return kept


def _note(database: Path, now: datetime) -> None:
    """For `check`; the copy is good in any case."""
    with contextlib.suppress(sqlite3.Error), closing(open_plain(database)) as connection:
        connection.execute(NOTE, (BACKUP, write_moment(now)))


def finish_restoring(database: Path) -> None:
    """End what a kill in the middle of a restoring has left; the caller holds the lock.

    The old file goes aside before the new one takes its name, so where the name is free, all but
    that last step was done. Otherwise nothing was, and the new file is given up.
    """
    fresh = _fresh(database)
    if not fresh.exists():
        return
    if database.exists():
        fresh.unlink()
        return
    _logs_follow(database, _names_aside(database)[0])
    fresh.replace(database)
    flush(database.parent)


def _fresh(database: Path) -> Path:
    return database.with_name(database.name + ".restoring")


def _carry_erased(database: Path, fresh: Path) -> None:
    """Whoever was erased from the database that is replaced is erased from the backup, too.

    Here it is only noted: it is done when the restored database is opened, since its tables may
    have to be upgraded before.
    """
    with closing(open_plain(fresh)) as connection:
        connection.execute(ERASED)
        connection.executemany(CARRY, _erased(database))


def _erased(database: Path) -> list[tuple[str, str, str]]:
    """The fingerprints in a database, which may be missing, older, or broken."""
    if not database.exists():
        return []
    try:
        # mode=ro: nothing about it is changed
        address = f"{database.absolute().as_uri()}?mode=ro"
        with closing(sqlite3.connect(address, uri=True)) as connection:
            rows = connection.execute("SELECT fingerprint, salt, erased_at FROM erased")
            return list(rows)
    except sqlite3.Error:
        return []


def _put_aside(database: Path) -> Path | None:
    """Rename a database with its write-ahead log, without opening it: it may be broken."""
    if not database.exists():
        return None
    _, kept = _names_aside(database)
    database.rename(kept)
    _logs_follow(database, kept)
    return kept


def _names_aside(database: Path) -> tuple[Path, Path]:
    """The last name that a database was put aside under, and the next one."""
    number = 1
    while (free := _aside(database, number)).exists():
        number += 1
    return _aside(database, number - 1), free


def _aside(database: Path, number: int) -> Path:
    return database.with_name(f"{database.name}.before-{number}")


def _logs_follow(database: Path, kept: Path) -> None:
    """They belong to the old file, and must not be played into the new one."""
    for suffix in LOGS:
        file = database.with_name(database.name + suffix)
        if file.exists():
            file.rename(kept.with_name(kept.name + suffix))
