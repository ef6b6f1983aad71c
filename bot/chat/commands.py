"""The menu of commands that the chat shows: one for members, one for instructors."""

import logging
from collections.abc import Mapping

from telegram import Bot, BotCommand, BotCommandScope, BotCommandScopeAllPrivateChats
from telegram import BotCommandScopeChat as OneChat
from telegram.error import TelegramError

from bot.words.help import INSTRUCTOR_COMMANDS, MEMBER_COMMANDS
from bot.words.speech import DEFAULT, LANGUAGES, speech_for

LOG = logging.getLogger(__name__)


async def set_commands(bot: Bot, *instructors: int) -> None:
    """Show members' commands in every private chat, and instructors' in theirs."""
    try:
        await _set(bot, MEMBER_COMMANDS, BotCommandScopeAllPrivateChats())
        for account in instructors:
            await _set(bot, INSTRUCTOR_COMMANDS, OneChat(account))
    except TelegramError as problem:
        # The menu is a comfort: every command works without it, and the next start sets it.
        LOG.warning("the menu of commands could not be set: %s", type(problem).__name__)


async def _set(bot: Bot, commands: Mapping[str, str], scope: BotCommandScope) -> None:
    for language in LANGUAGES:
        speech = speech_for(language)
        await bot.set_my_commands(
            [BotCommand(command, speech.label(what)) for command, what in commands.items()],
            scope=scope,
            language_code=None if language == DEFAULT else language,
        )
