"""The queue of updates, and the rules by which getUpdates empties it."""

import asyncio
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from random import Random

from demo_script.stand_in.limits import Limits
from demo_script.stand_in.refusals import conflict
from demo_script.stand_in.values import Json

# Left out unless asked for by name: they would be many.
ONLY_BY_NAME = frozenset({"chat_member", "message_reaction", "message_reaction_count"})
MOST_AT_ONCE = 100
FUTURE = 10  # an offset further ahead than this is taken for a leftover of older ids


@dataclass(frozen=True, slots=True)
class _Waiting:
    update_id: int
    body: Json
    expires: datetime


class Updates:
    """Updates wait here until an offset beyond them says that the bot has them."""

    def __init__(self, now: Callable[[], datetime], limits: Limits, seed: str) -> None:
        self._now = now
        self._limits = limits
        self._luck = Random(seed)
        self._next_id = self._anywhere()
        self._last_at: datetime | None = None
        self._queue: list[_Waiting] = []
        self._allowed: frozenset[str] | None = None
        self._poll: asyncio.Future[bool] | None = None
        self._next_conflict_at = 0.0
        self._closed = False

    @property
    def pending(self) -> int:
        """How many updates the bot hasn't confirmed yet."""
        self._drop_old()
        return len(self._queue)

    @property
    def has_poller(self) -> bool:
        """Whether a long poll waits right now."""
        return self._poll is not None and not self._poll.done()

    def add(self, kind: str, body: Json) -> int | None:
        """Queue an update and wake the poller; None if the bot doesn't want this kind."""
        if not self._wanted(kind):
            return None
        # A press is of no use when the app has stopped waiting for its answer.
        lives = self._limits.press_lives if kind == "callback_query" else self._limits.update_lives
        return self._append({kind: body}, self._now() + lives)

    def inject(self, raw: Json) -> int:
        """Queue any object at all, also one that no client can parse."""
        return self._append(raw, self._now() + self._limits.update_lives)

    def drop_all(self) -> None:
        """Forget everything that waits."""
        self._queue.clear()

    async def take(
        self, offset: int, limit: int, timeout_seconds: float, allowed: Iterable[str] | None
    ) -> list[Json]:
        """Confirm everything below the offset, and return what waits, or wait for something."""
        if allowed is not None:
            self._allowed = frozenset(allowed) or None  # remembered; an empty list is the default
        self._confirm(offset)
        if not self._queue and timeout_seconds > 0 and not self._closed:
            await self._wait(timeout_seconds)
        self._drop_old()
        size = limit if 1 <= limit <= MOST_AT_ONCE else MOST_AT_ONCE
        return [waiting.body for waiting in self._queue[:size]]

    def close(self) -> None:
        """Let the poller go."""
        self._closed = True
        self._end_poll(stays=True)

    async def _wait(self, timeout_seconds: float) -> None:
        """Long polling: the newest request waits, and an older one is sent away."""
        self._end_poll(stays=False)
        poll = self._poll = asyncio.get_running_loop().create_future()
        try:
            async with asyncio.timeout(timeout_seconds):
                stays = await poll
        except TimeoutError:
            return
        if not stays:
            await self._slow_down()
            raise conflict()

    def _end_poll(self, *, stays: bool) -> None:
        if self._poll is not None and not self._poll.done():
            self._poll.set_result(stays)

    async def _slow_down(self) -> None:
        """The first 409 comes at once, the next ones late, so that two pollers don't race."""
        pause, now = self._limits.conflict_pause_seconds, asyncio.get_running_loop().time()
        if now < self._next_conflict_at:
            await asyncio.sleep(pause)
        else:
            self._next_conflict_at = now + pause

    def _append(self, body: Json, expires: datetime) -> int:
        now = self._now()
        if self._last_at is not None and now - self._last_at >= self._limits.quiet_restart:
            self._next_id = self._anywhere()  # so nobody may compare with an old maximum
        self._last_at = now
        update_id = self._next_id
        self._next_id += 1
        self._queue.append(_Waiting(update_id, {"update_id": update_id, **body}, expires))
        self._end_poll(stays=True)
        return update_id

    def _confirm(self, offset: int) -> None:
        self._drop_old()
        if offset < 0:  # counted from the end; what lies before is forgotten
            del self._queue[: max(0, len(self._queue) + offset)]
        elif offset <= self._next_id + FUTURE:
            self._queue = [w for w in self._queue if w.update_id >= offset]

    def _drop_old(self) -> None:
        now = self._now()
        self._queue = [waiting for waiting in self._queue if waiting.expires > now]

    def _wanted(self, kind: str) -> bool:
        return kind not in ONLY_BY_NAME if self._allowed is None else kind in self._allowed

    def _anywhere(self) -> int:
        return self._luck.randrange(100_000_000, 900_000_000)
