"""Someone blocks the bot or lets it in again, in private or in a group chat."""

from bot.chat.group_chat import standing
from bot.chat.visit import Visit
from bot.desk.reach import tell_unreachable
from bot.storage.reach import clear_unreachable, mark_unreachable

GONE = "kicked"
"""What the chat API calls somebody who has blocked the bot."""


async def presence(visit: Visit) -> None:
    """Stop writing to whoever blocked us; their own message opens the way again too."""
    if visit.place is not None:
        await standing(visit, visit.place)
    elif visit.person is None:
        return  # a stranger, or someone who was erased: nobody waits for them
    elif visit.status == GONE:
        if await mark_unreachable(visit.tx, visit.account, "blocked", visit.now):
            await tell_unreachable(visit.tx, visit.account, visit.now)
    else:
        await clear_unreachable(visit.tx, visit.account)
