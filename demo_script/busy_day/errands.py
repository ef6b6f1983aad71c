"""What the two instructors do in chat that day, besides teaching."""

from datetime import timedelta
from functools import partial

from bot.buttons import ClassButton, Deed, SeenButton, SessionButton
from bot.buttons.people import Lead, LeadButton
from bot.buttons.watching import AboutClass
from bot.storage import alerts, groups, sessions
from demo_script.busy_day.classes import note_class
from demo_script.busy_day.day import EVENING, MIDDAY, MORNING, Day, StagedGroup
from demo_script.busy_day.founding import join, leading_page, tap
from demo_script.busy_day.reading_back import as_the_bot_says
from demo_script.stand_in import Message, Person
from demo_script.story.incidents import ask
from demo_script.story.opening import newest_link
from demo_script.story.screen import carried, latest

LOOKS_AFTER = {MORNING: 8, MIDDAY: 40, EVENING: 5}
"""Minutes until one of a group's instructors looks at an urgent alert; after 30 it comes again."""


async def hand_class(day: Day) -> None:
    """The first can't be there at midday: the second stands in, for this class alone."""
    group = day.group(MIDDAY)
    await leading_page(day, day.first, group)
    await tap(day, day.first, LeadButton, id=group.id, lead=Lead.CLASSES)
    session = await day.session(group)
    label = await tap(day, day.first, LeadButton, lead=Lead.STAND_IN, about=session.id)
    group.tale.line(day.first.name, f"/people · who leads · a substitute · [{label}]")
    day.second.open_link(newest_link(day.first))
    group.tale.line(day.second.name, "follows the link")
    await group.tale.settle(full=True)
    label = await tap(day, day.second, LeadButton, lead=Lead.ACCEPT)
    group.tale.line(day.second.name, f"[{label}]")
    group.tale.tell_new(full=True)


async def move_class(day: Day) -> None:
    """The second moves the evening's class an hour, and lets the members know."""
    group = day.group(EVENING)
    session = await day.session(group)
    day.notes.moved_from, day.notes.moved_at = session.starts_at, day.now
    day.second.say("/classes")
    await day.theatre.settle()
    await tap(day, day.second, SessionButton, session=session.id, deed=Deed.SHOW)
    await tap(day, day.second, SessionButton, session=session.id, deed=Deed.MOVE)
    day.witness.new()
    earlier = session.starts_at - timedelta(hours=1)
    label = await tap(day, day.second, SessionButton, deed=Deed.MOVE_TO, to=earlier)
    group.tale.line(day.second.name, f"/classes · {group.name} · move it · [{label}]")
    label = await tap(day, day.second, SessionButton, deed=Deed.MOVED, to=earlier)
    group.tale.line(day.second.name, f"[{label}]")
    label = await tap(day, day.second, SessionButton, session=session.id, deed=Deed.TELL)
    day.notes.told_of_move = group.names
    group.tale.line(day.second.name, f"[{label}]")
    group.tale.tell_new()
    note_class(day, EVENING, await day.session(group))


async def look_again(day: Day) -> None:
    """The substitute asks for the digest once the class is over."""
    day.notes.substitute_until = day.now
    day.second.say("/digest")
    day.telling.line(day.now, day.second.name, "/digest, now that the class is over")
    await day.group(MIDDAY).tale.settle()


async def take_over_demands(day: Day) -> None:
    """One tap under the summary that offers better demands, where one does."""
    group = day.group(MORNING)
    day.notes.plans_before = await _plans(day)
    try:
        latest(day.first, ClassButton, what=AboutClass.APPLY)
    except LookupError:
        day.telling.note("No summary has offered other demands.")
        return
    message, _, _ = latest(day.first, ClassButton, what=AboutClass.APPLY)
    await group.tale.press(day.first, message, ClassButton, day.first.name, what=AboutClass.APPLY)
    day.telling.close_up(day.now, (day.first.name,), day.first.private.messages[message.message_id])
    day.notes.plans_after = await _plans(day)


async def export(day: Day) -> None:
    """The first exports one of the two groups that are hers."""
    group = day.group(MIDDAY)
    before = len(day.first.messages)
    day.first.say("/export")
    await day.theatre.settle()
    label = await tap(day, day.first, LeadButton, id=group.id, lead=Lead.EXPORT)
    day.telling.line(day.now, day.first.name, f"/export · [{label}]")
    files = [each.attachment for each in day.first.messages[before:] if _is_file(each)]
    day.notes.exported = {each.name: each.content for each in files if each is not None}
    async with day.theatre.house.database.transaction() as tx:
        following = await sessions.next_session(tx, group.id, day.now)
        assert following is not None, "they meet every week"
        day.notes.next_day = following.local_day
        day.notes.would_suggest = await as_the_bot_says(tx, following)
    group.tale.tell_new()


async def newcomer_joins(day: Day) -> None:
    """Somebody follows the evening's link a few minutes before the class."""
    group, actor = day.group(EVENING), day.newcomer
    assert actor is not None, "they were made with their group"
    group.tale.line(actor.name, "follows the link")
    await join(group.tale, actor, group.link, full=True)
    day.notes.joined_at = day.now
    group.tale.cast = (*group.tale.cast, actor)
    await ask(group.tale, actor, full=True)


async def note_looks(day: Day) -> None:
    """Note when somebody looks at the urgent alerts that came since this was last done."""
    came = day.witness.sights[day.looked_through :]
    day.looked_through = len(day.witness.sights)
    for sight in came:
        for alert_id in sight.alerts if sight.kind == "message" else ():
            async with day.theatre.house.database.transaction() as tx:
                alert = await alerts.alert(tx, alert_id)
            for part, minutes in LOOKS_AFTER.items():
                group = day.group(part)
                reader = group.leaders[-1]
                theirs = alert is not None and alert.group_id == group.id
                if theirs and sight.chat_id == reader.person_id and sight.message is not None:
                    look = partial(_look, day, group, reader, sight.message)
                    day.agenda.note(sight.at + timedelta(minutes=minutes), look)


async def _look(day: Day, group: StagedGroup, reader: Person, message: Message) -> None:
    """Mark it as seen, unless that is done."""
    now = reader.private.messages[message.message_id]
    if any(carried(now, SeenButton)):
        await group.tale.press(reader, now, SeenButton, reader.name)


def _is_file(message: Message) -> bool:
    own = message.sender_id == message.chat_id
    return not own and message.attachment is not None and message.attachment.kind == "document"


async def _plans(day: Day) -> dict[str, str]:
    """Every group's plan as it holds now, by the group's id."""
    found = {}
    async with day.theatre.house.database.transaction() as tx:
        for group in day.groups:
            plan_id = (await groups.group(tx, group.id)).plan_id
            found[group.id] = await groups.plan_document(tx, plan_id)
    return found
