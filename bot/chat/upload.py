"""A plan file as a document: makes a group, or replaces its plan after a question."""

from telegram import Update
from telegram.error import BadRequest, NetworkError, TelegramError

from bot.buttons import ReplaceButton
from bot.chat import timetable_file
from bot.chat.plan import change_plan
from bot.chat.setup import open_group
from bot.chat.visit import Rooms, Visit
from bot.desk.drafting import when_of
from bot.desk.plan_changes import coming
from bot.errors import BadInput
from bot.planfile import MOST_BYTES, PlanFile, difference, read_plan_file
from bot.storage import groups, people, uploads
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.timetable.calendarfile import Calendar
from bot.words import groups as words
from bot.words import timetable_file as timetable_words
from bot.words import toasts
from bot.words.joining import STRANGER
from bot.words.plan_changes import replace_question
from bot.words.plans import NO_CLASS_TO_CHANGE, NOTHING_DIFFERENT


async def fetch(rooms: Rooms, update: Update) -> object:
    """The text of the file, or the message that says why not; only for instructors."""
    account, document = update.effective_user, update.message and update.message.document
    if account is None or not document:
        return words.NOT_A_PLAN
    async with rooms.database.transaction() as tx:
        person = await people.person_of_account(tx, account.id)
        if person is None:
            return STRANGER
        if not person.is_owner and not await groups.groups_led_by(tx, person):
            return words.FILES_ARE_FOR_INSTRUCTORS
    name = document.file_name or ""
    if not name.lower().endswith(".toml") and not timetable_file.is_calendar(name):
        return words.NOT_A_PLAN
    too_large = timetable_words.TOO_LARGE if timetable_file.is_calendar(name) else words.TOO_LARGE
    if (document.file_size or 0) > MOST_BYTES:
        return too_large
    try:
        content = bytes(await (await document.get_file()).download_as_bytearray())
    except TelegramError as refused:
        if isinstance(refused, NetworkError) and not isinstance(refused, BadRequest):
            raise  # the line broke: it is tried again
        return too_large  # its size was not told, or not truly
    if timetable_file.is_calendar(name, content):
        return await timetable_file.read(content)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return words.FILE_UNREADABLE


async def upload(visit: Visit) -> None:
    """What the file says becomes a group, a question, or a list of what is wrong with it."""
    document = visit.brought
    if callable(document):
        await visit.say(document(visit.speech))
        return
    if visit.person is not None and isinstance(document, Calendar):
        await timetable_file.take(visit, visit.person, document)
        return
    if visit.person is None or not isinstance(document, str):
        await visit.say(STRANGER(visit.speech))
        return
    try:
        plan = read_plan_file(document, "plan file")
    except BadInput as refused:
        await visit.say(words.file_refused(visit.speech, refused.problems))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    existing = _called(led, visit.text.strip()) or _called(led, plan.name)
    if existing is not None:
        await _ask(visit, visit.person, existing, plan, document)
    elif visit.person.is_owner:
        await _make(visit, visit.person, plan, document)
    else:
        await visit.say(words.ONLY_THE_OWNER(visit.speech))


async def answer_replacing(visit: Visit) -> None:
    """The press of a button under the question whether a plan is to be replaced."""
    button = ReplaceButton.read(visit.data)
    waiting = (
        None
        if button is None or visit.person is None
        else await uploads.upload_of(visit.tx, button.id, visit.person.id)
    )
    if button is None or visit.person is None or waiting is None:
        visit.toast = toasts.OUTDATED
        return
    await uploads.end_upload(visit.tx, waiting.id)
    if not await groups.leads(visit.tx, visit.person, waiting.group_id):
        visit.toast = toasts.NOT_YOURS
        return
    if not button.yes:
        await visit.replace(words.KEPT(visit.speech))
        return
    held = await coming(visit.tx, await groups.group(visit.tx, waiting.group_id), visit.now)
    changed = await change_plan(
        visit,
        held,
        read_plan_file(waiting.document, "plan file"),
        str(visit.update_id),
        once=button.once,
        document=waiting.document,
    )
    if changed is None:
        await visit.replace(NO_CLASS_TO_CHANGE(visit.speech))


async def _make(visit: Visit, person: Person, plan: PlanFile, document: str) -> None:
    group = await groups.make_group(
        visit.tx, person, plan.name, document, str(visit.update_id), visit.now
    )
    await open_group(visit, group, plan)


async def _ask(visit: Visit, person: Person, group: Group, plan: PlanFile, document: str) -> None:
    held = await coming(visit.tx, group, visit.now)
    found = difference(held.plan, plan)
    if found.is_nothing:
        await visit.say(NOTHING_DIFFERENT(visit.speech))
        return
    upload_id = await uploads.put_upload(
        visit.tx, person.id, group.id, document, visit.update_id, visit.now
    )
    when = when_of(visit.speech, held)
    await visit.say(replace_question(visit.speech, group.name, found, when, upload_id))


def _called(led: tuple[Group, ...], name: str) -> Group | None:
    return next((each for each in led if each.name.casefold() == name.casefold()), None)
