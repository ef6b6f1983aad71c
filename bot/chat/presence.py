"""Someone blocks the bot or lets it in again."""

from bot.chat.visit import Visit
from bot.desk.reach import tell_unreachable
from bot.storage.reach import clear_unreachable, mark_unreachable

GONE = "kicked"
"""What the chat API calls somebody who has blocked the bot."""


async def presence(visit: Visit) -> None:
    """Stop writing to whoever blocked us; their own message opens the way again too."""
    if not visit.status:
        return  # it is about a group chat, and says nothing about their own
    if visit.status == GONE:
        if await mark_unreachable(visit.tx, visit.account, "blocked", visit.now):
            await tell_unreachable(visit.tx, visit.account, visit.now)
    else:
        await clear_unreachable(visit.tx, visit.account)
