"""The lock beside the database, so that only one process works with it."""

import fcntl
import os
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path

from bot.errors import AlreadyRunning, BadInput, Problem


def lock_path(database: Path) -> Path:
    """Where the lock of this database lies."""
    return database.with_name(database.name + ".lock")


@contextmanager
def hold_lock(database: Path) -> Generator[None]:
    """Hold the database's lock; raises AlreadyRunning if another process has it.

    Raises BadInput where the file can't be made.

    The kernel lets go of it however the process ends. The file itself stays: removing it would let
    two processes lock two different files of the same name.
    """
    path = lock_path(database)
    try:
        handle = os.open(path, os.O_CREAT | os.O_RDWR | os.O_CLOEXEC, 0o600)
    except OSError as error:
        wrong = error.strerror or type(error).__name__
        problem = Problem(where=str(path), wrong=wrong, expected="a place that can be written")
        raise BadInput((problem,)) from None
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise AlreadyRunning(str(database)) from None
        yield
    finally:
        os.close(handle)
