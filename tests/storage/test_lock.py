"""Only one process works with a database."""

import subprocess
import sys
from pathlib import Path

import pytest

from bot.errors import AlreadyRunning, BadInput
from bot.storage.lock import hold_lock, lock_path

HOLDER = """
import sys
from pathlib import Path
from bot.storage.lock import hold_lock
with hold_lock(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_a_second_process_is_refused_until_the_first_is_gone(tmp_path: Path) -> None:
    database = tmp_path / "class-effort.sqlite3"
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(database)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(AlreadyRunning), hold_lock(database):
            pass
        holder.kill()  # nothing is cleaned up, and yet the lock is free
        holder.wait()
    with hold_lock(database):
        assert lock_path(database).stat().st_mode & 0o777 == 0o600


def test_the_lock_can_be_taken_again(tmp_path: Path) -> None:
    database = tmp_path / "class-effort.sqlite3"
    for _ in range(2):
        with hold_lock(database):
            assert lock_path(database).exists()


def test_a_place_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="nowhere"), hold_lock(tmp_path / "nowhere" / "db"):
        pass
