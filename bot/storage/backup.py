"""Copies of the database that can be trusted: taken while it is in use, checked, put back."""

import os
import sqlite3
from contextlib import closing
from pathlib import Path

from bot.errors import BadInput, DatabaseTooNew, Problem
from bot.storage.lock import hold_lock
from bot.storage.upgrade import newest_known

A_BACKUP = "a database of this program"

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


def backup(database: Path, target: Path, *, overwrite: bool = False) -> None:
    """Copy a database, in use or not, to a file that appears whole or not at all."""
    if not database.is_file():
        raise _refusal(database, "there is no such file", A_BACKUP)
    if target.exists() and not overwrite:
        raise _refusal(target, "the file exists", "a new name, or permission to overwrite")
    _copy(database, target)


def restore(saved: Path, database: Path) -> Path | None:
    """Put a backup in the place of a database; returns where the old one was put, if any.

    Raises BadInput for a file that is no sound backup, DatabaseTooNew for one that a newer program
    wrote, and AlreadyRunning while the database is in use.
    """
    check(saved)
    with hold_lock(database):
        fresh = database.with_name(database.name + ".restoring")
        _copy(saved, fresh)
        _carry_erased(database, fresh)
        kept = _put_aside(database)
        fresh.replace(database)
        _flush(database.parent)
    return kept


def check(saved: Path) -> None:
    """Refuse a file that is broken, that isn't ours, or that is too new."""
    if not saved.is_file():
        raise _refusal(saved, "there is no such file", A_BACKUP)
    try:
        with closing(_open(saved)) as connection:
            sound = connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            (found,) = connection.execute("SELECT max(number) FROM schema_version").fetchone()
    except sqlite3.DatabaseError:
        raise _refusal(saved, "it can't be read", A_BACKUP) from None
    if not sound or found is None:
        raise _refusal(saved, "it is damaged", A_BACKUP)
    if found > newest_known():
        raise DatabaseTooNew(found, newest_known())


def _copy(source: Path, target: Path) -> None:
    part = target.with_name(f".{target.name}.part")
    part.unlink(missing_ok=True)
    # made empty and private first: VACUUM INTO takes an empty file, and keeps its mode
    os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
    try:
        try:
            with closing(_open(source)) as connection:
                connection.execute("VACUUM INTO :part", {"part": str(part)})
        except sqlite3.DatabaseError:
            raise _refusal(source, "it can't be read", A_BACKUP) from None
        check(part)
        _flush(part)
        part.replace(target)
    finally:
        part.unlink(missing_ok=True)
    _flush(target.parent)


def _carry_erased(database: Path, fresh: Path) -> None:
    """Whoever was erased from the database that is replaced is erased from the backup, too.

    Here it is only noted: it is done when the restored database is opened, since its tables may
    have to be upgraded before.
    """
    with closing(_open(fresh)) as connection:
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
    number = 1
    while (kept := database.with_name(f"{database.name}.before-{number}")).exists():
        number += 1
    for suffix in ("-wal", "-shm", ""):
        file = database.with_name(database.name + suffix)
        if file.exists():
            file.rename(kept.with_name(kept.name + suffix))
    return kept


def _open(path: Path) -> sqlite3.Connection:
    # mode=rw: never create what is not there
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)


def _flush(path: Path) -> None:
    """Make sure that a file, or the names in a folder, have reached the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _refusal(path: Path, wrong: str, expected: str) -> BadInput:
    return BadInput((Problem(where=str(path), wrong=wrong, expected=expected),))
