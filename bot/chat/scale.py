"""/scale: what the numbers mean, how my ratings fit, and a lesson of four taps."""

from bot.buttons import LessonButton
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.desk.selfcheck import own_check
from bot.storage import groups, members
from bot.storage.groups import Group
from bot.words import lesson as words
from bot.words import toasts
from bot.words.joining import STRANGER
from core.lesson import scenes


async def scale(visit: Visit) -> None:
    """One message, for the group that they joined first."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    mine = await members.groups_of(visit.tx, visit.person)
    if not mine:
        await visit.say(words.NO_GROUP(visit.speech))
        return
    check = await own_check(visit.tx, mine[0].id, visit.person)
    await visit.say(words.scale_message(visit.speech, mine[0].id, check))


async def press(visit: Visit) -> None:
    """The next scene, or what was said about this one; nothing is stored."""
    button = LessonButton.read(visit.data)
    group = None if button is None else await _mine(visit, button.group)
    if button is None or group is None or visit.person is None:
        visit.toast = toasts.NOT_YOURS
        return
    plan = await plan_of(visit.tx, group.plan_id)
    all_scenes = scenes(plan.plan)
    place, count = button.place, len(all_scenes)
    if place >= count:
        check = await own_check(visit.tx, group.id, visit.person)
        await visit.replace(words.scale_message(visit.speech, group.id, check))
    elif button.tenths is None:
        scene = all_scenes[place]
        await visit.replace(words.scene_message(visit.speech, group.id, scene, place, count))
    else:
        rating = button.tenths / 10
        await visit.replace(
            words.scene_answered(visit.speech, group.id, all_scenes[place], place, rating, count)
        )


async def _mine(visit: Visit, group_id: str) -> Group | None:
    if visit.person is None:
        return None
    mine = await members.groups_of(visit.tx, visit.person)
    if group_id not in {each.id for each in mine}:
        return None
    return await groups.group(visit.tx, group_id)
