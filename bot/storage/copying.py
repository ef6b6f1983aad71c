"""Copies a database into a file that appears whole, checked and private, or not at all."""

import fcntl
import os
import sqlite3
from collections.abc import Generator
from contextlib import closing, contextmanager
from pathlib import Path

from bot.errors import BadInput, DatabaseTooNew, Problem, StorageTrouble
from bot.storage.trouble import trouble_of
from bot.storage.upgrade import newest_known

A_BACKUP = "a database of this program"
PART = ".class-effort-part"
"""Ends the name of a copy that isn't whole yet."""


def copy(source: Path, target: Path) -> None:
    """Copy a database, in use or not, over whatever is at the target.

    BadInput where one of the two can't be used, StorageTrouble where the disk is full.
    """
    with _part_of(target) as part:
        try:
            with closing(open_plain(source)) as connection:
                connection.execute("VACUUM INTO :part", {"part": str(part)})
        except sqlite3.DatabaseError as error:
            trouble = trouble_of(error)
            if trouble is not None:
                raise StorageTrouble(trouble) from error
            raise refusal(source, "it can't be read", A_BACKUP) from None
        check(part)
        flush(part)
        part.replace(target)
    flush(target.parent)


def check(saved: Path) -> None:
    """Refuse a file that is broken, that isn't ours, or that is too new."""
    if not saved.is_file():
        raise refusal(saved, "there is no such file", A_BACKUP)
    try:
        with closing(open_plain(saved)) as connection:
            sound = connection.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
            (found,) = connection.execute("SELECT max(number) FROM schema_version").fetchone()
    except sqlite3.DatabaseError:
        raise refusal(saved, "it can't be read", A_BACKUP) from None
    if not sound or found is None:
        raise refusal(saved, "it is damaged", A_BACKUP)
    if found > newest_known():
        raise DatabaseTooNew(found, newest_known())


def open_plain(path: Path) -> sqlite3.Connection:
    """Open a file that is there."""
    # mode=rw: never create what is not there
    return sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)


def flush(path: Path) -> None:
    """Make sure that a file, or the names in a folder, have reached the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def refusal(path: Path, wrong: str, expected: str) -> BadInput:
    """What is wrong with a file, and what it should be."""
    return BadInput((Problem(where=str(path), wrong=wrong, expected=expected),))


@contextmanager
def _part_of(target: Path) -> Generator[Path]:
    """An empty private file beside the target, gone afterwards unless it was renamed.

    Its lock shows that somebody still writes it: what a killed process has left is taken away.
    """
    try:
        _sweep(target.parent)
        part = target.with_name(f".{target.name}.{os.getpid()}{PART}")
        # made before SQLite sees it: VACUUM INTO takes an empty file, and keeps its mode
        handle = os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR | os.O_CLOEXEC, 0o600)
    except OSError as error:
        wrong = error.strerror or type(error).__name__
        raise refusal(target, wrong, "a place that can be written") from None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        yield part
    finally:
        part.unlink(missing_ok=True)
        os.close(handle)


def _sweep(folder: Path) -> None:
    for part in folder.glob(f".*{PART}"):
        handle = os.open(part, os.O_RDWR | os.O_CLOEXEC)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            part.unlink(missing_ok=True)
        except BlockingIOError:
            continue
        finally:
            os.close(handle)
