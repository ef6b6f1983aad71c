"""A calendar file (.ics) as a document: becomes a timetable, after a look at what changes."""

import asyncio
from functools import partial

from bot.buttons import CalendarButton
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk import calendar_files as desk
from bot.desk.calendar_files import Told
from bot.storage import calendars, groups, sessions
from bot.storage.calendars import CalendarUpload
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.timetable.calendarfile import BadCalendar, Calendar, read_calendar, write_calendar
from bot.words import timetable_file as words
from bot.words import toasts
from bot.words.message import Message

ENDING = ".ics"
BEGINNING = b"BEGIN:VCALENDAR"
DATES_SHOWN = 3


def is_calendar(name: str, content: bytes = b"") -> bool:
    """Whether a file is one, by its name or by how it begins."""
    return (
        name.lower().endswith(ENDING)
        or content.lstrip(b"\xef\xbb\xbf \r\n")[: len(BEGINNING)].upper() == BEGINNING
    )


async def read(content: bytes) -> object:
    """The calendar, or the message that says why there is none; meant for outside transactions."""
    try:
        return await asyncio.to_thread(read_calendar, content.decode("utf-8-sig"))
    except UnicodeDecodeError:
        return words.NOT_TEXT
    except BadCalendar as refused:
        return partial(words.refused, problem=refused)


async def take(visit: Visit, person: Person, calendar: Calendar) -> None:
    """A calendar was sent: find out whose it is and what of it, and show what would change."""
    led = await groups.groups_led_by(visit.tx, person)
    if not led:
        await visit.say(words.NO_GROUP_FOR_IT(visit.speech))
        return
    group = _meant(led, visit.text.strip(), calendar)
    upload = await calendars.put_upload(
        visit.tx,
        person.id,
        None if group is None else group.id,
        write_calendar(calendar),
        visit.update_id,
        visit.now,
    )
    if group is None:
        named = [(each.id, each.name) for each in led]
        await visit.say(words.which_group(visit.speech, upload, named))
        return
    await visit.say(await _ask_events(visit, upload, group, calendar))


async def press(visit: Visit) -> None:
    """Whose it is, which events, or whether to follow it."""
    button, person = CalendarButton.read(visit.data), visit.person
    waiting = (
        None
        if button is None or person is None
        else await calendars.upload_of(visit.tx, button.upload, person.id)
    )
    if button is None or person is None or waiting is None:
        visit.toast = toasts.OUTDATED
        return
    if button.yes is False:
        await calendars.end_upload(visit.tx, waiting.id)
        await visit.replace(words.UNCHANGED(visit.speech))
        return
    group_id = button.group or waiting.group_id
    group = None if group_id is None else await led_group(visit, group_id)
    if group is None:
        visit.toast = toasts.NOT_YOURS
        return
    await visit.replace(await _answered(visit, person, group, waiting, button))


async def _answered(
    visit: Visit, person: Person, group: Group, waiting: CalendarUpload, button: CalendarButton
) -> Message:
    calendar = read_calendar(waiting.document)
    if button.group is not None:
        await calendars.narrow_upload(visit.tx, waiting.id, group.id)
        return await _ask_events(visit, waiting.id, group, calendar)
    if button.yes:
        return await _follow(visit, person, group, waiting, calendar)
    if button.event is not None and button.event < len(calendar.titles):
        calendar = calendar.called(calendar.titles[button.event])
    return await _preview(visit, waiting.id, group, calendar)


async def _ask_events(visit: Visit, upload: str, group: Group, calendar: Calendar) -> Message:
    """Ask which events are meant, unless that is plain."""
    titles = calendar.titles
    before = set(await desk.chosen_before(visit.tx, group)) & set(titles)
    chosen = tuple(before) or _like(group.name, titles)
    if len(titles) > 1 and not chosen:
        return words.which_events(visit.speech, upload, group.name, titles)
    return await _preview(visit, upload, group, calendar.called(*(chosen or titles)))


async def _preview(visit: Visit, upload: str, group: Group, calendar: Calendar) -> Message:
    """What would change; the file is kept as far as it is meant until that is answered."""
    compared = await desk.compare(visit.tx, group, calendar, visit.now)
    if isinstance(compared, BadCalendar):
        await calendars.end_upload(visit.tx, upload)
        return words.refused(visit.speech, compared)
    if compared.is_empty or compared.is_known:
        await calendars.end_upload(visit.tx, upload)
        return (words.NOTHING_AHEAD if compared.is_empty else words.ALREADY_SO)(visit.speech)
    await calendars.narrow_upload(visit.tx, upload, group.id, write_calendar(calendar))
    said = Told.of(visit.speech, compared)
    return words.preview(
        visit.speech,
        upload,
        group.name,
        new=said.new,
        moved=said.moved,
        gone=said.gone,
        kept=said.kept,
    )


async def _follow(
    visit: Visit, person: Person, group: Group, waiting: CalendarUpload, calendar: Calendar
) -> Message:
    await calendars.end_upload(visit.tx, waiting.id)
    compared = await desk.compare(visit.tx, group, calendar, visit.now)
    if isinstance(compared, BadCalendar):
        return words.refused(visit.speech, compared)
    reason = str(visit.update_id)
    await desk.follow(visit.tx, group, calendar, compared, person, reason, visit.now)
    coming = await sessions.sessions_from(visit.tx, group.id, visit.now, DATES_SHOWN)
    zone = compared.plan.timezone
    dates = [visit.speech.moment(each.starts_at, zone) for each in coming]
    return words.taken_over(visit.speech, group.name, dates)


def _meant(led: tuple[Group, ...], caption: str, calendar: Calendar) -> Group | None:
    """The one group that a caption, or what the file calls itself, can mean; None if in doubt."""
    named = [each for each in led if each.name.casefold() == caption.casefold()]
    if named or len(led) == 1:
        return (named or list(led))[0]
    told = (calendar.name, *calendar.titles)
    alike = [each for each in led if any(_alike(each.name, name) for name in told)]
    return alike[0] if len(alike) == 1 else None


def _like(name: str, titles: tuple[str, ...]) -> tuple[str, ...]:
    """The titles that are this group's name, or else hold it or are held in it."""
    same = tuple(each for each in titles if each.casefold() == name.casefold())
    return same or tuple(each for each in titles if _alike(name, each))


def _alike(name: str, title: str) -> bool:
    one, other = name.casefold(), title.casefold()
    return other != "" and (one in other or other in one)
