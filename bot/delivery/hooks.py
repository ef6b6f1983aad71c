"""What the house wants to be told by the post, in the transaction in which it happened."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Transaction


async def _nobody_told(tx: Transaction, chat: int, now: datetime) -> None:
    """Nobody needs to know that a chat is unreachable."""


async def _nobody_moves(tx: Transaction, old: int, new: int) -> None:
    """Nothing else knows the chat's id."""


async def _nobody_waited(tx: Transaction, since: datetime, until: datetime) -> None:
    """Nobody minds that the chat API was not heard for a while."""


async def _nobody_asked(tx: Transaction, account: int, language: str | None, now: datetime) -> None:
    """Nobody has to hear that what they sent was too much."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hooks:
    """Called inside the transaction: store what follows from it, and never call the chat API."""

    on_unreachable: Callable[[Transaction, int, datetime], Awaitable[None]] = _nobody_told
    """A chat refused us, for the first time since it last wrote: (chat, now)."""
    on_moved: Callable[[Transaction, int, int], Awaitable[None]] = _nobody_moves
    """A group has another id: (old, new). The letters follow by themselves."""
    on_outage: Callable[[Transaction, datetime, datetime], Awaitable[None]] = _nobody_waited
    """No update could come in for more than two minutes: (since, until). Buttons pressed
    meanwhile may be lost."""
    on_flood: Callable[[Transaction, int, str | None, datetime], Awaitable[None]] = _nobody_asked
    """Somebody sent more to our private chat than we take, and the rest was put away unread:
    (account, language of their chat, now)."""
