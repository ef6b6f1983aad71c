"""Rests after failures, which a clock that is set back would make far longer than meant."""

from datetime import datetime, timedelta

from bot.storage.database import Transaction
from bot.storage.inbox import INBOX
from bot.storage.moments import write_moment
from bot.storage.outbox import OUTBOX

LONGEST = timedelta(minutes=1)


async def shorten_rests(tx: Transaction, now: datetime) -> None:
    """Let nothing rest longer than a minute from now; who wants us to wait longer says it again."""
    horizon = write_moment(now + LONGEST)
    await tx.execute("UPDATE inbox SET retry_at = NULL WHERE retry_at > :horizon", horizon=horizon)
    await tx.execute(
        "UPDATE outbox SET retry_at = NULL WHERE state = 'queued' AND retry_at > :horizon",
        horizon=horizon,
    )
    await tx.execute(
        "UPDATE chat_pause SET ends_at = :horizon WHERE ends_at > :horizon", horizon=horizon
    )
    tx.wake(INBOX)
    tx.wake(OUTBOX)
