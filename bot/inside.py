"""What the house is filled with: chat, calendar and desk, which take longest to load."""

from collections.abc import Callable
from datetime import datetime

from telegram import Bot

from bot.chat.commands import set_commands
from bot.chat.contents import contents
from bot.chat.visit import Rooms
from bot.clock import Clock
from bot.desk import group_chats
from bot.desk.flood import tell_too_much
from bot.desk.next_time import NextTimes
from bot.desk.prompts import ask_again
from bot.desk.reach import tell_unreachable
from bot.errors import StorageTrouble
from bot.pictures.render import end_drawing
from bot.schedule.turn import take_turn
from bot.storage import groups
from bot.storage.database import Database, Transaction
from bot.tasks import Follow


class Inside:
    """Does what is to be done about whatever comes in, and about time that passes."""

    def __init__(
        self,
        database: Database,
        clock: Clock,
        username: str,
        is_owner_code: Callable[[str], bool],
        follow: Follow,
    ) -> None:
        self._database = database
        self._now = clock.now
        self.handlers = contents(
            Rooms(
                database=database,
                now=clock.now,
                username=username,
                is_owner_code=is_owner_code,
                next_times=NextTimes(clock),
                follow=follow,
            )
        )

    async def turn(self, now: datetime) -> None:
        """Do what is due by now."""
        await take_turn(self._database, now)

    async def end(self) -> None:
        """Let go of whatever is held, once nothing is being done any more."""
        await end_drawing()

    async def set_menus(self, bot: Bot) -> None:
        """Show everybody the menu of their commands."""
        try:
            async with self._database.transaction() as tx:
                instructors = {
                    leader.account
                    for group in await groups.all_groups(tx)
                    for leader in await groups.leaders(tx, group.id)
                }
        except StorageTrouble:
            return  # the next start sets them
        await set_commands(bot, *sorted(instructors))

    async def lost(self, tx: Transaction, chat: int, now: datetime) -> None:
        """A chat can't be written to any more."""
        await tell_unreachable(tx, chat, now)
        await group_chats.lost(tx, chat, now)

    async def moved(self, tx: Transaction, old: int, new: int) -> None:
        """A group chat has another id."""
        await group_chats.moved(tx, old, new, self._now())

    async def missed(self, tx: Transaction, since: datetime, until: datetime) -> None:
        """Taps may have been lost in between."""
        await ask_again(tx, since, until)

    async def too_much(
        self, tx: Transaction, account: int, language: str | None, now: datetime
    ) -> None:
        """Somebody sends more than we take."""
        await tell_too_much(tx, account, language, now)
