"""/newgroup: a group set up in chat, from its name to its link."""

from bot.buttons.setup import Stage, Step
from bot.chat.invite import new_link, send_picture
from bot.chat.visit import Visit
from bot.desk import calendar
from bot.desk.draft_moves import Move, following
from bot.desk.drafting import begin_setup, put_on_screen, resumed, was_shown
from bot.planfile import PlanFile, write_plan_file
from bot.planfile.draft import finished, read_draft
from bot.storage import drafts, groups, sessions
from bot.storage.drafts import StoredDraft
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.words import groups as words
from bot.words import setup as setup_words
from bot.words.joining import STRANGER
from bot.words.setup_typed import name_taken

DATES_SHOWN = 3


async def new_group(visit: Visit) -> None:
    """Begin a group, or go on with the one that was begun."""
    person = visit.person
    if person is None:
        await visit.say(STRANGER(visit.speech))
        return
    if not person.is_owner:
        await visit.say(words.ONLY_THE_OWNER(visit.speech))
        return
    stored = await begin_setup(visit.tx, person, visit.update_id, visit.now)
    draft = read_draft(stored.document)
    note = None if draft.name is None else setup_words.went_on(visit.speech)
    move = Move(draft=draft, step=resumed(stored), note=note)
    await visit.say(await put_on_screen(visit.tx, stored, move, visit.speech, visit.now))


async def make(visit: Visit, person: Person, stored: StoredDraft) -> None:
    """The group becomes true, if its instructor has just seen what it holds."""
    draft = read_draft(stored.document)
    plan, name = finished(draft, visit.now), draft.name or ""
    move = None
    if await is_taken(visit, person, name):
        move = Move(draft=draft, step=Step(Stage.NAME), note=name_taken(visit.speech, name))
    elif not was_shown(stored, None):
        note = setup_words.look_again(visit.speech)
        move = Move(draft=draft, step=Step(Stage.PREVIEW), note=note)
    if plan is None or move is not None:
        move = move or Move(draft=draft, step=following(draft))
        await visit.replace(await put_on_screen(visit.tx, stored, move, visit.speech, visit.now))
        return
    await drafts.end_draft(visit.tx, stored.id)
    document = write_plan_file(plan)
    group = await groups.make_group(
        visit.tx, person, plan.name, document, f"draft/{stored.id}", visit.now
    )
    await open_group(visit, group, plan)


async def open_group(visit: Visit, group: Group, plan: PlanFile) -> None:
    """A group was made: plan its classes, and hand out the way into it."""
    await calendar.plan_ahead(visit.tx, group, visit.now)
    link, _ = await new_link(visit.tx, visit.rooms, group.id, visit.now)
    visit.new_commands = True
    coming = await sessions.sessions_from(visit.tx, group.id, visit.now, DATES_SHOWN)
    dates = [visit.speech.moment(each.starts_at, plan.timezone) for each in coming]
    await visit.replace(words.group_made(visit.speech, group.id, plan, dates, link))
    send_picture(visit, link, group)


async def is_taken(visit: Visit, person: Person, name: str) -> bool:
    """Whether this instructor leads a group of that name already."""
    led = await groups.groups_led_by(visit.tx, person)
    return name.casefold() in {each.name.casefold() for each in led}
