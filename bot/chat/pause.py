"""/pause: no questions and no reminders until a day, or until I say so."""

from datetime import date, datetime, time, timedelta

from bot.buttons.personal import PauseButton
from bot.chat.visit import Visit
from bot.desk.calendar import plan_of
from bot.storage import dialogues, members, pauses
from bot.storage.dialogues import Dialogue, DialogueKind
from bot.storage.people import Person
from bot.timetable import local, to_utc
from bot.words import pausing as words
from bot.words import toasts
from bot.words.joining import STRANGER
from bot.words.message import Message
from bot.words.typed_days import read_day

NOWHERE = "UTC"
"""The clock of whoever is in no group."""
LONGEST = timedelta(days=366)


async def pause(visit: Visit) -> None:
    """Ask until when; whoever pauses already can end that, or choose anew."""
    person = visit.person
    if person is None:
        await visit.say(STRANGER(visit.speech))
        return
    running = await pauses.pause_of(visit.tx, person.id, visit.now)
    dialogue = await dialogues.open_dialogue(
        visit.tx, person.id, DialogueKind.PAUSE, visit.update_id, visit.now, typing=True
    )
    until = None if running is None else await _day(visit, person, running.ends_at)
    await visit.say(
        words.until_when(visit.speech, dialogue, None if running is None else running.id, until)
    )


async def press(visit: Visit) -> None:
    """A length was chosen, or the pause is to end."""
    button, person = PauseButton.read(visit.data), visit.person
    if button is None or person is None:
        visit.toast = toasts.NOT_YOURS
        return
    if button.choice == "end":
        await _end(visit, person, button.id)
        return
    opened = await dialogues.dialogue(visit.tx, button.id)
    if opened is None:  # answered on another device, dropped, or asked anew since
        visit.toast = toasts.OUTDATED
        await visit.replace(await _as_it_is(visit, person) or words.NO_PAUSE(visit.speech))
    elif opened.person_id != person.id or opened.kind is not DialogueKind.PAUSE:
        visit.toast = toasts.OUTDATED
    elif button.choice == "no":
        await dialogues.end_dialogue(visit.tx, opened.id)
        await visit.replace(await _as_it_is(visit, person) or words.NO_PAUSE(visit.speech))
    else:
        days = int(button.choice) if button.choice.isdigit() else None
        today = local(visit.now, await _zone(visit, person)).date()
        first = None if days is None else today + timedelta(days=days)
        await visit.replace(await _begin(visit, person, opened, first))
        visit.toast = toasts.NOTED


async def typed(visit: Visit, person: Person, opened: Dialogue) -> None:
    """A day was written."""
    today = local(visit.now, await _zone(visit, person)).date()
    first = read_day(visit.speech, visit.text, today)
    if first is None or not today < first <= today + LONGEST:
        await visit.say(words.not_a_day(visit.speech, today + timedelta(weeks=2)))
        return
    await visit.say(await _begin(visit, person, opened, first))


async def _begin(visit: Visit, person: Person, opened: Dialogue, first: date | None) -> Message:
    """The pause holds from now on; `first` is the day from which on they are asked again."""
    zone = await _zone(visit, person)
    ends_at = None if first is None else to_utc(datetime.combine(first, time()), zone)
    begun = await pauses.begin_pause(visit.tx, person.id, ends_at, visit.now)
    await dialogues.end_dialogue(visit.tx, opened.id)
    return words.paused(visit.speech, begun.id, first)


async def _end(visit: Visit, person: Person, pause_id: str) -> None:
    running = await pauses.pause_of(visit.tx, person.id, visit.now)
    if running is None or running.id != pause_id:  # over, or chosen anew since
        visit.toast = toasts.OUTDATED
        await visit.replace(await _as_it_is(visit, person) or words.NOT_PAUSED(visit.speech))
        return
    await pauses.end_pause(visit.tx, person.id)
    visit.toast = toasts.NOTED
    await visit.replace(words.BACK(visit.speech))


async def _as_it_is(visit: Visit, person: Person) -> Message | None:
    """The pause that holds now; None if none does."""
    running = await pauses.pause_of(visit.tx, person.id, visit.now)
    if running is None:
        return None
    until = await _day(visit, person, running.ends_at)
    return words.paused(visit.speech, running.id, until)


async def _day(visit: Visit, person: Person, moment: datetime | None) -> date | None:
    return None if moment is None else local(moment, await _zone(visit, person)).date()


async def _zone(visit: Visit, person: Person) -> str:
    """Where they train, which is where their days begin."""
    for group in await members.groups_of(visit.tx, person):
        return (await plan_of(visit.tx, group.plan_id)).timezone
    return NOWHERE
