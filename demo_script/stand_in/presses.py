"""A press on a button, and the answer that the person's app waits for."""

import asyncio
from dataclasses import dataclass, field
from datetime import datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the app shows after a press; all empty means that it only stops its spinner."""

    at: datetime
    text: str = ""
    show_alert: bool = False
    """True: a box to close; False: a line that fades."""
    url: str | None = None
    """A link the app opens; None for most answers."""


@dataclass(slots=True, kw_only=True)
class Press:
    """One press; `answer` stays None until the bot has answered."""

    query_id: str
    at: datetime
    account_id: int
    chat_id: int
    message_id: int
    data: str
    answer: Answer | None = None
    _answered: asyncio.Event = field(default_factory=asyncio.Event, repr=False)

    def take(self, answer: Answer) -> None:
        """The answer has come."""
        self.answer = answer
        self._answered.set()

    async def answered(self, timeout_seconds: float = 5.0) -> Answer:
        """Wait (real seconds) for the answer; TimeoutError if the bot leaves the app hanging."""
        async with asyncio.timeout(timeout_seconds):
            await self._answered.wait()
        assert self.answer is not None
        return self.answer
