"""/attendance: who was there in the class that is on, or in the last one, by tap."""

from bot.buttons.people import AttendanceButton, Presence
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk import attendance as desk
from bot.storage import attendance as stored
from bot.storage import groups, members, sessions
from bot.storage.sessions import Session
from bot.words import attendance as words
from bot.words import toasts
from bot.words.attendance import Attendance
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER

NOTED = {Presence.THERE: True, Presence.AWAY: False, Presence.UNKNOWN: None}


async def attendance(visit: Visit) -> None:
    """Of every group that they lead, the class that began last."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
        return
    begun = [await stored.begun_last(visit.tx, each.id, visit.now) for each in led]
    for session in begun:
        if session is not None:
            await visit.say(words.attendance_message(visit.speech, await _facts(visit, session), 0))
    if not any(begun):
        await visit.say(words.NO_CLASS_YET(visit.speech))


async def press(visit: Visit) -> None:
    """Look at a class, or note who was there; a tap says what will be so."""
    button = AttendanceButton.read(visit.data)
    session = None if button is None else await _led_session(visit, button.session)
    if button is None or session is None:
        visit.toast = toasts.NOT_YOURS
        return
    facts = await _facts(visit, session)
    if button.presence is Presence.OTHERS:
        await visit.replace(words.others_question(visit.speech, facts, button.page))
        return
    if button.presence is Presence.OTHERS_AWAY:
        for seat in facts.seats:
            if seat.was_there is None:
                await _note(visit, session, seat.person, was_there=False)
    elif button.presence is not None and button.person is not None:
        await _tapped(visit, session, facts, button.person, NOTED[button.presence])
    facts = await _facts(visit, session)
    await visit.replace(words.attendance_message(visit.speech, facts, button.page))


async def _tapped(
    visit: Visit, session: Session, facts: Attendance, person_id: str, was_there: bool | None
) -> None:
    seat = next((each for each in facts.seats if each.person == person_id), None)
    if seat is None:
        visit.toast = toasts.OUTDATED
    elif seat.said_so:
        visit.toast = words.SAID_THEMSELVES
    else:
        await _note(visit, session, person_id, was_there=was_there)


async def _note(visit: Visit, session: Session, person_id: str, *, was_there: bool | None) -> None:
    people = await members.members(visit.tx, session.group_id)
    person = next(each for each in people if each.id == person_id)
    await desk.note(visit.tx, session, person, was_there, str(visit.update_id), visit.now)


async def _led_session(visit: Visit, session_id: str) -> Session | None:
    """The class with this id if it has begun and the visitor leads its group."""
    session = await sessions.find_session(visit.tx, session_id)
    if session is None or await led_group(visit, session.group_id) is None:
        return None
    return session if session.starts_at <= visit.now else None


async def _facts(visit: Visit, session: Session) -> Attendance:
    return await desk.attendance_of(visit.tx, session, visit.speech, visit.now)
