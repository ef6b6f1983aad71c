"""What follows an update that is done and answered: it keeps nobody's next one waiting."""

import asyncio
import logging

from bot.tasks import Tasks, Work

LOG = logging.getLogger(__name__)

FOLLOWING_SECONDS = 60.0  # what hangs must not keep the house from closing


class Following:
    """Work in the background that belongs to what came in: the house waits for it as it closes."""

    def __init__(self, settled: asyncio.Event) -> None:
        self._settled = settled
        self._tasks: Tasks | None = None
        self._running: set[asyncio.Task[None]] = set()

    @property
    def busy(self) -> bool:
        """Whether any of it is being done."""
        return bool(self._running)

    def open(self, tasks: Tasks) -> None:
        """From now on there may be work."""
        self._tasks = tasks

    async def begin(self, work: Work) -> None:
        """Begin, and don't wait for its end. Nobody misses it after a kill, or if it fails."""
        assert self._tasks is not None, "nothing comes in yet"
        task = self._tasks.start(self._do(work), name="following")
        self._running.add(task)
        task.add_done_callback(self._ended)

    async def _do(self, work: Work) -> None:
        try:
            async with asyncio.timeout(FOLLOWING_SECONDS):
                await work()
        except Exception:
            LOG.exception("what follows an update failed")

    def _ended(self, task: asyncio.Task[None]) -> None:
        self._running.discard(task)
        self._settled.set()

    async def drain(self) -> None:
        """Let what is being done come to its end."""
        await asyncio.gather(*self._running, return_exceptions=True)
