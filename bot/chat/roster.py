"""/people: who takes part in a group, page by page."""

from bot.buttons import RosterButton
from bot.chat.leading import led_group, the_group
from bot.chat.visit import Visit
from bot.desk.roster import roster_of
from bot.storage.dialogues import stop_typing
from bot.words import toasts
from bot.words.roster import roster_message


async def people(visit: Visit) -> None:
    """The first page, of the one group or of the one that is chosen."""
    group = await the_group(visit, RosterButton)
    if group is not None:
        roster = await roster_of(visit.tx, group, visit.now)
        await visit.say(roster_message(visit.speech, roster, 0))


async def press(visit: Visit) -> None:
    """A page of the roster, in place of what was there."""
    button = RosterButton.read(visit.data)
    group = None if button is None else await led_group(visit, button.group)
    if button is None or group is None or visit.person is None:
        visit.toast = toasts.NOT_YOURS
        return
    await stop_typing(visit.tx, visit.person.id)
    roster = await roster_of(visit.tx, group, visit.now)
    await visit.replace(roster_message(visit.speech, roster, button.page))
