"""/help, /privacy, and what is said to what nobody understands."""

from bot.chat.visit import Visit
from bot.storage import groups
from bot.words import help as words
from bot.words import toasts
from bot.words.joining import STRANGER


async def help_me(visit: Visit) -> None:
    """What this person can do here."""
    if visit.person is None:
        await visit.say(words.help_message(visit.speech, leads=False))
        return
    leads = visit.person.is_owner or bool(await groups.groups_led_by(visit.tx, visit.person))
    await visit.say(words.help_message(visit.speech, leads=leads))


async def privacy(visit: Visit) -> None:
    """What is stored, where, and who sees it."""
    await visit.say(words.privacy_message(visit.speech))


async def unknown_command(visit: Visit) -> None:
    """A command that there isn't."""
    refusal = STRANGER if visit.person is None else words.UNKNOWN_COMMAND
    await visit.say(refusal(visit.speech))


async def unknown_button(visit: Visit) -> None:
    """A press that no button of ours wrote."""
    visit.toast = toasts.OUTDATED


async def not_for_us(visit: Visit) -> None:
    """Anything else is marked as done and left alone."""
