"""The real process under a real clock, started and killed as a supervisor would."""

import asyncio
import os
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Self

from bot.place import Place
from bot.settings import Settings
from demo_script.clock import PushedClock


class TwoClocks:
    """The story's clock while the classes are prepared, then the computer's."""

    def __init__(self, start: datetime) -> None:
        self.story = PushedClock(start)
        self.real = False

    def now(self) -> datetime:
        """What everyone goes by at this moment."""
        return datetime.now(UTC) if self.real else self.story.now()


def _named(place: Place) -> str:
    return str(place) if isinstance(place, Path) else place.address


class Run:
    """The real process, as it is started by a supervisor; one after the other on the same file."""

    def __init__(self, settings: Settings, journal: Path) -> None:
        self.journal = journal
        self.settings = settings
        self.python = sys.executable
        """The interpreter; another's environment may hold less."""
        self._environment = {
            **os.environ,
            "CLASS_EFFORT_TOKEN": settings.token.text,
            "CLASS_EFFORT_API_URL": settings.api_url,
            "CLASS_EFFORT_DATABASE": _named(settings.database),
        }
        self.process: asyncio.subprocess.Process | None = None

    async def __aenter__(self) -> Self:
        return self

    async def __aexit__(self, *_: object) -> None:
        """Whatever went wrong, no process is left behind."""
        if self.process is not None and self.process.returncode is None:
            await self.kill()

    async def start(self) -> None:
        """A new process on the same file."""
        with self.journal.open("ab") as journal:
            self.process = await asyncio.create_subprocess_exec(
                self.python, "-m", "bot", "run",
                env=self._environment, stdout=journal, stderr=journal,
            )  # fmt: skip

    async def kill(self) -> None:
        """SIGKILL: it gets no chance to tidy up."""
        assert self.process is not None
        assert self.process.returncode is None, "it ended by itself"
        self.process.kill()
        await self.process.wait()

    async def end(self, signals: int = 1) -> int:
        """SIGTERM, once or several times at once; what it ended with."""
        assert self.process is not None
        assert self.process.returncode is None, "it ended by itself"
        for _ in range(signals):
            self.process.terminate()
        return await self.process.wait()
