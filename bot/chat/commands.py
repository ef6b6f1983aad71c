"""The menu of commands that the chat shows: one for members, one for instructors."""

import logging

from telegram import Bot, BotCommand, BotCommandScopeAllPrivateChats, BotCommandScopeChat
from telegram.error import TelegramError

from bot.words.help import INSTRUCTOR_COMMANDS, MEMBER_COMMANDS

LOG = logging.getLogger(__name__)


async def set_commands(bot: Bot, *instructors: int) -> None:
    """Show members' commands in every private chat, and instructors' in theirs."""
    try:
        await bot.set_my_commands(
            [BotCommand(command, what) for command, what in MEMBER_COMMANDS],
            scope=BotCommandScopeAllPrivateChats(),
        )
        for account in instructors:
            await bot.set_my_commands(
                [BotCommand(command, what) for command, what in INSTRUCTOR_COMMANDS],
                scope=BotCommandScopeChat(account),
            )
    except TelegramError as problem:
        # The menu is a comfort: every command works without it, and the next start sets it.
        LOG.warning("the menu of commands could not be set: %s", type(problem).__name__)
