"""/classes: the coming classes of every group that I lead, and an extra one."""

from datetime import datetime, timedelta

from bot.buttons import ClassesButton
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk import class_facts as facts
from bot.desk import classes as desk
from bot.desk.calendar import plan_of
from bot.desk.class_news import tell_instructors
from bot.desk.classes import Hindered, Hindrance
from bot.storage import class_typings, groups
from bot.storage.dialogues import stop_typing
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.timetable import local, to_utc
from bot.words import class_changes as words
from bot.words import toasts
from bot.words.class_news import News
from bot.words.classes import classes_message
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER
from bot.words.message import Message
from bot.words.typed_moments import Usual, read_when

ON_A_PAGE = 6
DAYS_OFFERED = 4


async def classes(visit: Visit) -> None:
    """One message for each group."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
    for group in led:
        await visit.say(await page_of(visit, group, 0))


async def press(visit: Visit) -> None:
    """Another page, or another class."""
    button, person = ClassesButton.read(visit.data), visit.person
    group = None if button is None else await led_group(visit, button.group)
    if button is None or person is None or group is None:
        visit.toast = toasts.NOT_YOURS
    elif not button.adds:
        await class_typings.end_typing(visit.tx, person.id)
        await visit.replace(await page_of(visit, group, button.page))
    elif button.at is None:
        await _ask_when(visit, person, group)
    else:
        message = await _add(visit, person, group, button.at)
        await visit.replace(message)


async def typed(visit: Visit, person: Person, group: Group) -> None:
    """A day and a time for another class were written."""
    plan = await plan_of(visit.tx, group.plan_id)
    now = local(visit.now, plan.timezone).replace(tzinfo=None)
    usual = Usual(now=now, day=now.date(), clock=plan.starts.time())
    wall = read_when(visit.speech, visit.text, usual)
    if wall is None:
        like = datetime.combine(now.date() + timedelta(days=1), plan.starts.time())
        await visit.say(words.not_a_moment(visit.speech, like))
        return
    await visit.say(await _add(visit, person, group, to_utc(wall, plan.timezone)))


async def page_of(visit: Visit, group: Group, page: int) -> Message:
    """A page of a group's coming classes; the last one there is, if there are fewer."""
    found = await facts.listed(visit.tx, group, visit.now)
    page = min(page, max(0, (len(found) - 1) // ON_A_PAGE))
    shown = found[page * ON_A_PAGE : (page + 1) * ON_A_PAGE]
    return classes_message(
        visit.speech,
        group=group.name,
        group_id=group.id,
        classes=[await facts.class_facts(visit.tx, each, visit.now) for each in shown],
        page=page,
        more=len(found) > (page + 1) * ON_A_PAGE,
        from_calendar=await facts.follows_calendar(visit.tx, group),
    )


async def hindered(visit: Visit, group: Group, found: Hindered) -> Message:
    """Why a class can't be then."""
    if found.by is not None:
        plan = await plan_of(visit.tx, found.by.plan_id)
        other = visit.speech.moment(found.by.starts_at, plan.timezone)
        return words.taken(visit.speech, group.name, other)
    past = found.why is Hindrance.PAST
    return (words.IN_THE_PAST if past else words.TOO_FAR)(visit.speech)


async def _ask_when(visit: Visit, person: Person, group: Group) -> None:
    plan = await plan_of(visit.tx, group.plan_id)
    free = await facts.days_to_add(visit.tx, group, plan, visit.now, DAYS_OFFERED)
    await stop_typing(visit.tx, person.id)
    await class_typings.expect_typing(visit.tx, person.id, group.id, None, visit.now)
    wall = local(visit.now, plan.timezone) + timedelta(days=1)
    await visit.replace(
        words.when_to_add(
            visit.speech,
            group.name,
            group.id,
            [(visit.speech.moment(each, plan.timezone), each) for each in free],
            datetime.combine(wall.date(), plan.starts.time()),
        )
    )


async def _add(visit: Visit, person: Person, group: Group, at: datetime) -> Message:
    """Add it, or say why not; a second press finds that it is there."""
    plan = await plan_of(visit.tx, group.plan_id)
    length = timedelta(minutes=plan.minutes)
    found = await desk.hindrance(visit.tx, group.id, at, length, visit.now)
    if found is not None:
        there = found.by
        if there is None or there.starts_at != at or not there.slot.startswith(facts.EXTRA):
            return await hindered(visit, group, found)
    else:
        there = await desk.add(visit.tx, group, at, visit.update_id, visit.now)
        await tell_instructors(visit.tx, there, News.ADDED, person, str(visit.update_id), visit.now)
    await class_typings.end_typing(visit.tx, person.id)
    return words.added(visit.speech, await facts.class_facts(visit.tx, there, visit.now))
