"""/export: the data of a group as files, for its instructors alone."""

from functools import partial

from bot.buttons.people import Lead, LeadButton
from bot.chat.leading import led_group, the_group
from bot.chat.visit import Visit
from bot.desk.group_export import send_group_export
from bot.storage import exports
from bot.storage.groups import Group
from bot.words import exporting as words
from bot.words import toasts


async def export(visit: Visit) -> None:
    """Of the one group, or of the one that is chosen."""
    group = await the_group(visit, lambda group_id: LeadButton(group_id, Lead.EXPORT))
    if group is not None:
        await _begin(visit, group)


async def press(visit: Visit, button: LeadButton) -> None:
    """The group was chosen."""
    group = await led_group(visit, button.id)
    if group is None:
        visit.toast = toasts.NOT_YOURS
        return
    visit.toast = toasts.ON_ITS_WAY
    await _begin(visit, group)


async def _begin(visit: Visit, group: Group) -> None:
    """It is written once everything else is committed; after a kill, the calendar takes it up."""
    if visit.person is None:
        return
    if await exports.is_exporting(visit.tx, group.id, visit.person.id):
        await visit.say(words.ON_ITS_WAY_ALREADY(visit.speech))
        return
    asked = await exports.ask_export(
        visit.tx, group.id, visit.person.id, visit.update_id, visit.now
    )
    visit.afterwards = partial(send_group_export, visit.rooms.database, asked, visit.now)
