"""A process of its own that draws: started for the first picture, ended when none is wanted.

The chart library takes most of a second to load and as much memory as all the rest, and whoever
draws lets nobody else compute in the same process. So cards go to another one by a pipe, and files
come back. It ends when its pipe does, so it can't outlive us.
"""

import asyncio
import logging
import os
import pickle
import subprocess
import sys
from collections.abc import Generator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Timer

import bot
from bot.errors import NotDrawn
from bot.logs import fields
from bot.pictures.cards import Card

LOG = logging.getLogger(__name__)

IDLE_SECONDS = 60.0  # digests are drawn one after the other, and who looks often looks again
LONGEST_SECONDS = 60.0  # a picture takes one or two; on a slow and busy computer ten times that
GOODBYE_SECONDS = 5.0
OURS = "CLASS_EFFORT_"  # how our settings begin: the token is no business of a process that draws
BROKEN_OFF = (OSError, EOFError, pickle.UnpicklingError)
"""What writing to a process that has ended raises, or reading what it has not finished."""


class Drawer:
    """Has cards drawn, one after the other.

    A single thread speaks with the process and always reads an answer to its end: whoever stops
    waiting for a picture leaves nothing behind that the next one could take for its own.
    """

    def __init__(self, idle_seconds: float = IDLE_SECONDS) -> None:
        self._idle_seconds = idle_seconds
        self._thread = ThreadPoolExecutor(1, "drawer")
        self._process: subprocess.Popen[bytes] | None = None
        self._bedtime: Timer | None = None
        self._wanted = 0

    @property
    def busy(self) -> bool:
        """Whether somebody waits for a picture."""
        return self._wanted > 0

    @property
    def process(self) -> int | None:
        """The number of the process, while there is one."""
        return None if self._process is None else self._process.pid

    async def drawn(self, card: Card) -> bytes:
        """The card as a file; NotDrawn if it can't be drawn."""
        self._wanted += 1
        try:
            return await asyncio.get_running_loop().run_in_executor(self._thread, self._draw, card)
        finally:
            self._wanted -= 1

    async def end(self) -> None:
        """Finish what is being drawn, and end the process."""
        await asyncio.get_running_loop().run_in_executor(self._thread, self._end)

    def _draw(self, card: Card) -> bytes:
        self._stay_up()
        try:
            # once more, since somebody may have ended it while it had nothing to do
            answer = self._ask(card) or self._ask(card)
        finally:
            self._go_to_bed()
        if isinstance(answer, bytes):
            return answer
        problem = answer or NotDrawn("the process that draws has ended twice")
        LOG.warning("a card could not be drawn", extra=fields(reason=problem.reason))
        raise problem

    def _ask(self, card: Card) -> bytes | NotDrawn | None:
        """What the process says; None if it has ended, by itself or because it took too long."""
        process = self._process = self._process or _started()
        assert process.stdin is not None
        assert process.stdout is not None
        try:
            with _no_longer_than(LONGEST_SECONDS, process):
                process.stdin.write(pickle.dumps(card))
                process.stdin.flush()
                answer: bytes | NotDrawn = pickle.load(process.stdout)
                return answer
        except BROKEN_OFF:
            LOG.info("the process that draws has ended")
            self._end()
            return None

    def _go_to_bed(self) -> None:
        self._bedtime = Timer(self._idle_seconds, lambda: self._thread.submit(self._end))
        self._bedtime.daemon = True
        self._bedtime.start()

    def _stay_up(self) -> None:
        if self._bedtime is not None:
            self._bedtime.cancel()

    def _end(self) -> None:
        self._stay_up()
        process, self._process = self._process, None
        if process is not None:
            with suppress(OSError), _no_longer_than(GOODBYE_SECONDS, process), process:
                pass  # closes its pipes, at which it ends, and waits until it has


def _started() -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-m", "bot.pictures"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,  # what the chart library complains of may hold names
        cwd=Path(bot.__file__).parents[1],  # so that it is the same code, wherever we were started
        env={name: value for name, value in os.environ.items() if not name.startswith(OURS)},
    )


@contextmanager
def _no_longer_than(seconds: float, process: subprocess.Popen[bytes]) -> Generator[None]:
    """Kill the process if this takes longer; then whoever waits for it learns that it has ended."""
    killing = Timer(seconds, process.kill)
    killing.daemon = True
    killing.start()
    try:
        yield
    finally:
        killing.cancel()
