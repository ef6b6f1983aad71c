"""/limits: when the instructors of a group want to be told of something."""

from bot.buttons import ThresholdButton
from bot.chat.visit import Visit
from bot.desk.alerts import watch_group
from bot.storage import groups
from bot.storage.groups import Group
from bot.storage.history import reports_of_group
from bot.storage.thresholds import put_threshold, thresholds_of
from bot.words import limits as words
from bot.words import toasts
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER


async def limits(visit: Visit) -> None:
    """The numbers of every group that they lead."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
    for group in led:
        now = await thresholds_of(visit.tx, group.id)
        await visit.say(words.limits_message(visit.speech, group.id, group.name, now))


async def press(visit: Visit) -> None:
    """Look at one number, or choose another; choosing it twice changes nothing."""
    button, person = ThresholdButton.read(visit.data), visit.person
    if button is None or person is None or not await groups.leads(visit.tx, person, button.group):
        visit.toast = toasts.NOT_YOURS
        return
    group = await groups.group(visit.tx, button.group)
    if button.threshold is None:
        now = await thresholds_of(visit.tx, group.id)
        await visit.replace(words.limits_message(visit.speech, group.id, group.name, now))
        return
    if button.value is not None:
        await put_threshold(visit.tx, group.id, button.threshold, button.value, visit.now)
        await _watch_anew(visit, group)
        visit.toast = toasts.NOTED
    now = await thresholds_of(visit.tx, group.id)
    page = words.limit_page(visit.speech, group.id, group.name, button.threshold, now)
    await visit.replace(page)


async def _watch_anew(visit: Visit, group: Group) -> None:
    """What the new number no longer tells is over, and what it tells is there."""
    reports = await reports_of_group(visit.tx, group.id)
    await watch_group(visit.tx, group.id, reports, str(visit.update_id), visit.now)
