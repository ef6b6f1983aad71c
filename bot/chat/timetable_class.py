"""One class: cancel it, move it, take either back, and tell the members."""

from collections.abc import Awaitable, Callable
from datetime import datetime

from bot.buttons import Deed, SessionButton
from bot.chat import timetable
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk import calendar
from bot.desk import class_facts as facts
from bot.desk import classes as desk
from bot.desk.calendar import plan_of
from bot.desk.class_news import tell_instructors, tell_members
from bot.storage import class_typings, groups, sessions
from bot.storage.class_typings import ClassTyping
from bot.storage.dialogues import stop_typing
from bot.storage.dues import Occasion, is_done
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.timetable import local, to_utc
from bot.words import class_changes as words
from bot.words import toasts
from bot.words.class_news import News, members_told
from bot.words.classes import ClassFacts, class_message
from bot.words.help import NOTHING_ASKED
from bot.words.message import Message
from bot.words.typed_moments import Usual, read_when

Doing = Callable[[Visit, Person, Session, SessionButton], Awaitable[None]]


async def press(visit: Visit) -> None:
    """Whatever it is, it is for whoever leads the group, and for a class that is as it was then."""
    button, person = SessionButton.read(visit.data), visit.person
    session = None if button is None else await sessions.find_session(visit.tx, button.session)
    group = None if session is None else await led_group(visit, session.group_id)
    if button is None or person is None or session is None or group is None:
        visit.toast = toasts.NOT_YOURS
        return
    await class_typings.end_typing(visit.tx, person.id)
    done_before = button.deed is Deed.MOVED and session.starts_at == button.to
    if session.starts_at != button.at and not done_before:
        visit.toast = toasts.OUTDATED
    elif button.deed is not Deed.SHOW and not facts.can_change(session, visit.now):
        visit.toast = toasts.CLOSED
    else:
        await DEEDS[button.deed](visit, person, session, button)


async def typed(visit: Visit, person: Person, typing: ClassTyping) -> None:
    """A day and a time were written, for a class to move or for one to add."""
    group = await led_group(visit, typing.group_id)
    if group is None:
        await class_typings.end_typing(visit.tx, person.id)
        await visit.say(NOTHING_ASKED(visit.speech))
    elif typing.session_id is None:
        await timetable.typed(visit, person, group)
    else:
        session = await sessions.session(visit.tx, typing.session_id)
        await _typed(visit, person, session)


async def _typed(visit: Visit, person: Person, session: Session) -> None:
    """Ask whether that is meant, if it can be."""
    zone = (await plan_of(visit.tx, session.plan_id)).timezone
    start = local(session.starts_at, zone)
    now = local(visit.now, zone).replace(tzinfo=None)
    usual = Usual(now=now, day=start.date(), clock=start.time())
    wall = read_when(visit.speech, visit.text, usual)
    if wall is None:
        await visit.say(words.not_a_moment(visit.speech, start))
        return
    to = to_utc(wall, zone)
    refusal = await _refusal(visit, session, to)
    if refusal is not None:
        await visit.say(refusal)
        return
    await class_typings.end_typing(visit.tx, person.id)
    told = await _told(visit, session)
    await visit.say(words.move_question(visit.speech, await _facts(visit, session), to, told=told))


async def _show(visit: Visit, person: Person, session: Session, button: SessionButton) -> None:
    await visit.replace(class_message(visit.speech, await _facts(visit, session)))


async def _ask_cancelling(
    visit: Visit, person: Person, session: Session, button: SessionButton
) -> None:
    if session.cancelled:
        await _show(visit, person, session, button)
        return
    told = await _told(visit, session)
    await visit.replace(
        words.cancel_question(visit.speech, await _facts(visit, session), told=told)
    )


async def _cancel(visit: Visit, person: Person, session: Session, button: SessionButton) -> None:
    reason = str(visit.update_id)
    if await desk.cancel(visit.tx, session, reason, visit.now):
        await tell_instructors(visit.tx, session, News.CANCELLED, person, reason, visit.now)
    visit.toast = toasts.NOTED
    session = await sessions.session(visit.tx, session.id)
    await visit.replace(words.cancelled(visit.speech, await _facts(visit, session)))


async def _restore(visit: Visit, person: Person, session: Session, button: SessionButton) -> None:
    reason = str(visit.update_id)
    if session.cancelled and session.starts_at > visit.now:
        refusal = await _refusal(visit, session, session.starts_at)
        if refusal is not None:
            await visit.say(refusal)
            return
    if await desk.restore(visit.tx, session, reason, visit.now):
        await tell_instructors(visit.tx, session, News.ON, person, reason, visit.now)
    visit.toast = toasts.NOTED
    session = await sessions.session(visit.tx, session.id)
    await visit.replace(words.restored(visit.speech, await _facts(visit, session)))


async def _ask_when(visit: Visit, person: Person, session: Session, button: SessionButton) -> None:
    if await _stays(visit, person, session, button):
        return
    found = await _facts(visit, session)
    ways = await facts.ways_to_move(visit.tx, session, found.zone, visit.now)
    named = [
        (visit.speech.label(words.WAYS[way], when=visit.speech.moment(at, found.zone)), at)
        for way, at in ways
    ]
    await stop_typing(visit.tx, person.id)
    await class_typings.expect_typing(visit.tx, person.id, session.group_id, session.id, visit.now)
    await visit.replace(words.when_to_move(visit.speech, found, named))


async def _ask_moving(
    visit: Visit, person: Person, session: Session, button: SessionButton
) -> None:
    if button.to is None or await _stays(visit, person, session, button):
        return
    refusal = await _refusal(visit, session, button.to)
    if refusal is not None:
        await visit.say(refusal)
        return
    found, told = await _facts(visit, session), await _told(visit, session)
    await visit.replace(words.move_question(visit.speech, found, button.to, told=told))


async def _move(visit: Visit, person: Person, session: Session, button: SessionButton) -> None:
    if button.to is None or await _stays(visit, person, session, button):
        return
    before = session.starts_at if session.starts_at != button.to else button.at
    if session.starts_at != button.to:
        refusal = await _refusal(visit, session, button.to)
        if refusal is not None:
            await visit.say(refusal)
            return
        await calendar.move(visit.tx, session, button.to, visit.now)
        session = await sessions.session(visit.tx, session.id)
        reason = str(visit.update_id)
        await tell_instructors(
            visit.tx, session, News.MOVED, person, reason, visit.now, before=before
        )
    visit.toast = toasts.NOTED
    await visit.replace(words.moved(visit.speech, await _facts(visit, session), before))


async def _tell(visit: Visit, person: Person, session: Session, button: SessionButton) -> None:
    told = await tell_members(visit.tx, session, visit.now)
    if told == 0:
        visit.toast = words.TOLD_ALREADY
        return
    await visit.say(members_told(visit.speech, told))


async def _stays(visit: Visit, person: Person, session: Session, button: SessionButton) -> bool:
    """Whether a class can't be moved any more, since it has begun or is cancelled; says so."""
    if session.cancelled:
        await _show(visit, person, session, button)
        return True
    if session.starts_at <= visit.now:
        await visit.say(words.HAS_BEGUN(visit.speech))
        return True
    return False


async def _refusal(visit: Visit, session: Session, to: datetime) -> Message | None:
    length = session.ends_at - session.starts_at
    found = await desk.hindrance(
        visit.tx, session.group_id, to, length, visit.now, besides=session.id
    )
    if found is None:
        return None
    return await timetable.hindered(visit, await groups.group(visit.tx, session.group_id), found)


async def _told(visit: Visit, session: Session) -> bool:
    """Whether the digest of a class has gone out."""
    return await is_done(visit.tx, session.id, Occasion.DIGEST)


async def _facts(visit: Visit, session: Session) -> ClassFacts:
    return await facts.class_facts(visit.tx, session, visit.now)


DEEDS: dict[Deed, Doing] = {
    Deed.SHOW: _show,
    Deed.CANCEL: _ask_cancelling,
    Deed.CANCELLED: _cancel,
    Deed.RESTORE: _restore,
    Deed.MOVE: _ask_when,
    Deed.MOVE_TO: _ask_moving,
    Deed.MOVED: _move,
    Deed.TELL: _tell,
}
