"""Whether the visitor leads a group: what everything about its people asks first."""

from collections.abc import Callable

from bot.buttons import Button
from bot.chat.visit import Visit
from bot.storage import groups
from bot.storage.groups import Group
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER
from bot.words.roster import choose_group


async def led_group(visit: Visit, group_id: str) -> Group | None:
    """The group with this id if the visitor leads it now; None says nothing about why."""
    if visit.person is None or not await groups.leads(visit.tx, visit.person, group_id):
        return None
    return await groups.group(visit.tx, group_id)


async def the_group(visit: Visit, button: Callable[[str], Button]) -> Group | None:
    """The one group that a command is about.

    Whoever leads several is asked, with a button for each; who leads none is told so.
    """
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return None
    led = await groups.groups_led_by(visit.tx, visit.person)
    if len(led) == 1:
        return led[0]
    if led:
        named = [(each.name, button(each.id)) for each in led]
        await visit.say(choose_group(visit.speech, named))
    else:
        await visit.say(NO_GROUP(visit.speech))
    return None
