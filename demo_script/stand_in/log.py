"""The running log: everything that happened in the chats, for whoever tells the story."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

LOOK_AGAIN_SECONDS = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing that happened, as somebody in the chat would tell it."""

    at: datetime
    kind: str
    """message, edit, delete, press, answer, block, unblock, join, leave or upgrade."""
    direction: str
    """`in`: towards the bot; `out`: from the bot."""
    who: str
    chat: str
    chat_id: int
    text: str = ""
    buttons: tuple[tuple[str, ...], ...] = ()
    file: str | None = None
    """Name of the attachment; None without one."""
    message_id: int | None = None


class Log:
    """Remembers events, tells subscribers at once, and wakes whoever waits for something."""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self._subscribers: list[Callable[[Event], None]] = []
        self._stir = asyncio.Event()

    def subscribe(self, callback: Callable[[Event], None]) -> None:
        """Call this with every event from now on."""
        self._subscribers.append(callback)

    def add(self, event: Event) -> None:
        """Remember and tell."""
        self.events.append(event)
        for callback in self._subscribers:
            callback(event)
        self.stir()

    def stir(self) -> None:
        """Something changed that may interest a waiter, though no story needs it."""
        self._stir.set()
        self._stir = asyncio.Event()

    async def until(self, predicate: Callable[[], object], timeout_seconds: float) -> None:
        """Wait (real seconds) until this holds; TimeoutError with the last events if it doesn't.

        It's looked at after every event, and now and then, since it may be about other things.
        """
        try:
            async with asyncio.timeout(timeout_seconds):
                while not predicate():
                    await self._next_stir()
        except TimeoutError as late:
            told = "\n".join(f"{event.who}: {event.text[:80]!r}" for event in self.events[-8:])
            raise TimeoutError(f"not within {timeout_seconds} s; last seen:\n{told}") from late

    async def _next_stir(self) -> None:
        try:
            async with asyncio.timeout(LOOK_AGAIN_SECONDS):
                await self._stir.wait()
        except TimeoutError:
            return
