"""The real process when its file takes nothing: a full disk, a read-only one, a lock."""

import asyncio
import fcntl
import os
import resource
import subprocess
import sys
from collections.abc import AsyncGenerator, Callable, Generator
from contextlib import AbstractAsyncContextManager, asynccontextmanager, contextmanager, suppress
from pathlib import Path

import pytest

from bot.errors import Trouble
from core.questions import SESSION
from tests.campaigns.ground import Ground
from tests.journeys.evening import answer_data
from tests.journeys.test_operator import Command, evening, stored

pytestmark = [
    pytest.mark.of_files,
    pytest.mark.skipif(sys.platform != "linux", reason="only there one process limits another"),
]

NO_LIMIT = resource.RLIM_INFINITY
A_WHILE = 3.0
"""Real seconds: enough for every loop of the process to meet the trouble."""
MINUTES = 130.0
"""Longer than the two minutes after which members are asked again, since taps may be lost."""

READ_FLAGS, WRITE_FLAGS, IMMUTABLE = 0x80086601, 0x40086602, 0x10
"""What `chattr +i` does: root, too, is refused then, even through a file that was open before."""
HOLD = """
import sqlite3, sys
other = sqlite3.connect(sys.argv[1], isolation_level=None)
other.execute("BEGIN IMMEDIATE")
print("held", flush=True)
sys.stdin.read()
other.execute("ROLLBACK")
"""

ANSWERS = "SELECT number FROM answer"

Begin = Callable[[Ground, Command], AbstractAsyncContextManager[None]]
"""Inside the block the file takes nothing."""


@asynccontextmanager
async def full(ground: Ground, _: Command) -> AsyncGenerator[None]:
    """Something else has taken all the room that there was."""
    assert isinstance(ground.place, Path)
    filling = ground.place.with_name("filling")
    with suppress(OSError), filling.open("wb", buffering=0) as file:
        while file.write(bytes(4096)):
            pass
    yield
    filling.unlink()


@asynccontextmanager
async def held_small(_: Ground, bot: Command) -> AsyncGenerator[None]:
    """The process may write no file beyond its first page."""
    assert bot.process is not None
    resource.prlimit(bot.process.pid, resource.RLIMIT_FSIZE, (4096, NO_LIMIT))
    yield
    resource.prlimit(bot.process.pid, resource.RLIMIT_FSIZE, (NO_LIMIT, NO_LIMIT))


@asynccontextmanager
async def read_only(ground: Ground, _: Command) -> AsyncGenerator[None]:
    """Nobody may write what is on the disk."""
    file = ground.place
    assert isinstance(file, Path)
    both = (file, file.with_name(file.name + "-wal"))
    try:
        for each in both:
            make_immutable(each, yes=True)
    except OSError:
        pytest.skip("neither this account nor this file system can take away root's right to write")
    try:
        yield
    finally:
        for each in both:
            make_immutable(each, yes=False)


def make_immutable(file: Path, *, yes: bool) -> None:
    """Take away everybody's right to change a file, or give it back."""
    number = os.open(file, os.O_RDONLY)
    try:
        flags = int.from_bytes(fcntl.ioctl(number, READ_FLAGS, bytes(8)), sys.byteorder)
        wanted = flags | IMMUTABLE if yes else flags & ~IMMUTABLE
        fcntl.ioctl(number, WRITE_FLAGS, wanted.to_bytes(8, sys.byteorder))
    finally:
        os.close(number)


@asynccontextmanager
async def held(ground: Ground, _: Command) -> AsyncGenerator[None]:
    """Another process has begun to write, and doesn't come to an end."""
    other = await asyncio.create_subprocess_exec(
        sys.executable, "-c", HOLD, str(ground.place),
        stdin=asyncio.subprocess.PIPE, stdout=asyncio.subprocess.PIPE,
    )  # fmt: skip
    assert other.stdin is not None
    assert other.stdout is not None
    assert await other.stdout.readline() == b"held\n"
    yield
    other.stdin.close()
    assert await other.wait() == 0


@contextmanager
def small_disk(folder: Path) -> Generator[Path]:
    """A disk of its own with room for one database, where we may have one."""
    folder.mkdir()
    try:
        subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=8m,mode=700", "tmpfs", folder],
            check=True, capture_output=True,
        )  # fmt: skip
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("this account may not mount a disk")
    try:
        yield folder
    finally:
        subprocess.run(["umount", folder], check=True)


@pytest.mark.parametrize(
    ("begin", "trouble", "seconds"),
    [
        pytest.param(
            held_small, Trouble.FAILING, A_WHILE, id="may not grow", marks=pytest.mark.long
        ),
        pytest.param(read_only, Trouble.FAILING, A_WHILE, id="read-only"),
        pytest.param(
            held, Trouble.LOCKED, MINUTES, id="held for minutes", marks=pytest.mark.long
        ),
    ],
)  # fmt: skip
async def test_what_is_answered_meanwhile_is_stored_once_it_is_over_and_two_lines_tell_of_it(
    tmp_path: Path, begin: Begin, trouble: Trouble, seconds: float
) -> None:
    await answer_amid(tmp_path, begin, trouble, seconds)


@pytest.mark.long
async def test_on_a_disk_without_any_room_it_is_the_same(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk") as folder:
        await answer_amid(folder, full, Trouble.FULL, A_WHILE)


async def answer_amid(folder: Path, begin: Begin, trouble: Trouble, seconds: float) -> None:
    """Two members tap and one writes while the file takes nothing."""
    async with evening(folder) as (ground, bot):
        settings, (ana, ben, cleo) = ground.run.settings, ground.members
        async with begin(ground, bot):
            ana.press(ana.last_message, answer_data(ana.last_message, str(SESSION), 5))
            ben.press(ben.last_message, answer_data(ben.last_message, str(SESSION), 6))
            cleo.say("7")
            await asyncio.sleep(seconds)
            assert stored(settings, ANSWERS) == []
            assert ground.api.pending == 3, "nothing is acknowledged that isn't stored"
            assert bot.process is not None
            assert bot.process.returncode is None
        await ground.until_quiet()
        assert sorted(map(str, stored(settings, ANSWERS))) == ["5.0", "6.0", "7.0"]
        bot.process.terminate()
        assert await bot.end() == 0
    told = [line for line in bot.written.splitlines() if "from=bot.storage.database" in line]
    assert [event_of(line) for line in told] == [
        f"the-database-cant-be-used trouble={trouble}",
        f"the-database-works-again trouble={trouble}",
    ]
    assert bot.written.count("level=error") == 1, bot.written
    assert " passed=" not in bot.written, bot.written


def event_of(line: str) -> str:
    """What a line tells, without when and where."""
    words = dict(each.split("=", 1) for each in line.split() if "=" in each)
    return f"{words['event']} trouble={words['trouble']}"
