"""What there is to know of a database from outside, running or not; changes nothing."""

import fcntl
import os
import shutil
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from bot.place import Place
from bot.storage.backup import LOGS
from bot.storage.driver import need_driver
from bot.storage.lock import lock_path
from bot.storage.moments import read_maybe
from bot.storage.pulse import BACKUP, POLL, TURN

OTHERS = 0o077
PATIENCE_SECONDS = 5.0

FIRST = "SELECT min(upgraded_at) FROM schema_version"
WAITING = "SELECT count(*) FROM inbox WHERE done_at IS NULL AND parked_at IS NULL"
PARKED = "SELECT count(*) FROM inbox WHERE parked_at IS NOT NULL"


@dataclass(frozen=True, slots=True, kw_only=True)
class FileHealth:
    """The file, as it lies there; or the database on a server."""

    server: bool = False
    """Whether it's on one, which looks after disks and backups by its own means."""
    away: bool = False
    """Whether that can't be reached."""
    size_bytes: int | None = None
    """None if there is none yet."""
    version: int | None = None
    """The last script it has seen; None if it isn't a database of ours."""
    sound: bool = False
    open_to_others: tuple[Path, ...] = ()
    """Files that hold secrets and that others may read."""
    in_use: bool = False
    """Whether a process holds the lock."""
    can_be_written: bool = False
    free_bytes: int = 0
    made_at: datetime | None = None
    last_poll: datetime | None = None
    last_turn: datetime | None = None
    last_backup: datetime | None = None
    waiting: int = 0
    """Updates that came in and are still to be handled."""
    parked: int = 0
    """Updates that were given up."""


def look_at(database: Place, *secret: Path) -> FileHealth:
    """Everything at once; other files that hold secrets may be named too."""
    if isinstance(database, Path):
        return _look_at_file(database, *secret)
    need_driver()
    from bot.storage.server_health import look_at_server

    return look_at_server(database, *secret)


def _look_at_file(database: Path, *secret: Path) -> FileHealth:
    folder = database.absolute().parent
    known: dict[str, Any] = {
        "open_to_others": open_to_others(database, *logs_of(database), *secret),
        "in_use": is_in_use(database),
        "can_be_written": os.access(database if database.exists() else folder, os.W_OK),
        "free_bytes": shutil.disk_usage(folder).free if folder.is_dir() else 0,
    }
    if not database.is_file():
        return FileHealth(**known)
    known["size_bytes"] = database.stat().st_size
    try:
        with closing(_open(database)) as connection:
            return FileHealth(**known, **_inside(connection))
    except sqlite3.Error:
        return FileHealth(**known)


def signs_of_life(database: Place) -> FileHealth:
    """Only whether a process holds it, and when that last did something."""
    if not isinstance(database, Path):
        need_driver()
        from bot.storage.server_health import signs_of_life_on

        return signs_of_life_on(database)
    try:
        with closing(_open(database)) as connection:
            seen = _beats(connection)
    except sqlite3.Error:
        seen = {}
    return FileHealth(
        in_use=is_in_use(database), last_poll=seen.get(POLL), last_turn=seen.get(TURN)
    )


def is_in_use(database: Path) -> bool:
    """Whether a process holds the database's lock."""
    path = lock_path(database)
    if not path.exists():
        return False
    handle = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    else:
        return False
    finally:
        os.close(handle)


def _open(path: Path) -> sqlite3.Connection:
    address = f"{path.absolute().as_uri()}?mode=ro"
    return sqlite3.connect(address, uri=True, timeout=PATIENCE_SECONDS)


def _inside(connection: sqlite3.Connection) -> dict[str, Any]:
    def value(sql: str) -> Any:
        return connection.execute(sql).fetchone()[0]

    seen = _beats(connection)
    return {
        "version": value("SELECT max(number) FROM schema_version"),
        "sound": value("PRAGMA quick_check(1)") == "ok",
        "made_at": read_maybe(connection.execute(FIRST).fetchone()[0]),
        "last_poll": seen.get(POLL),
        "last_turn": seen.get(TURN),
        "last_backup": seen.get(BACKUP),
        "waiting": value(WAITING),
        "parked": value(PARKED),
    }


def _beats(connection: sqlite3.Connection) -> dict[str, datetime | None]:
    rows = connection.execute(
        "SELECT name, at FROM pulse WHERE name IN (?, ?, ?)", (POLL, TURN, BACKUP)
    )
    return {name: read_maybe(at) for name, at in rows}


def logs_of(database: Path) -> tuple[Path, ...]:
    """What SQLite keeps beside a file."""
    return tuple(database.with_name(database.name + suffix) for suffix in LOGS)


def open_to_others(*files: Path) -> tuple[Path, ...]:
    """Those of the files that others may read."""
    return tuple(file for file in files if file.exists() and file.stat().st_mode & OTHERS)
