"""Who was there: gathered for the instructor, and noted with what follows for the questions."""

from datetime import datetime, timedelta

from bot.desk import prompts as desk
from bot.desk.calendar import disturbs, plan_of
from bot.desk.letters import Errand, change
from bot.desk.prompts import Screen
from bot.desk.voice import speech_to
from bot.storage import attendance as stored
from bot.storage import groups, members, prompts, sessions
from bot.storage.database import Transaction
from bot.storage.outbox import withdraw
from bot.storage.pauses import pause_of
from bot.storage.people import Person
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from bot.words import attendance as words
from bot.words.attendance import Attendance, Seat
from bot.words.speech import Speech
from core.questions import SESSION
from core.rules import PROMPT_USEFUL


async def attendance_of(
    tx: Transaction, session: Session, speech: Speech, now: datetime
) -> Attendance:
    """Who was there in a class, as they said themselves, or else as it was noted."""
    group = await groups.group(tx, session.group_id)
    plan = await plan_of(tx, session.plan_id)
    before = await sessions.session_before(tx, session)
    after = await sessions.session_after(tx, session)
    begun = after is not None and after.starts_at <= now
    return Attendance(
        group_id=group.id,
        group=group.name,
        session=session.id,
        when=speech.moment(session.starts_at, plan.timezone),
        seats=await _seats(tx, session),
        before=None if before is None else before.id,
        after=after.id if after is not None and begun else None,
    )


async def _seats(tx: Transaction, session: Session) -> tuple[Seat, ...]:
    """Those who take part now and had joined by then, by name."""
    said = await stored.said_presence(tx, session.id)
    known = {**await stored.presence_in(tx, session.id), **said}
    could_come = await members.members_before(tx, session.group_id, session.ends_at)
    people = await members.members(tx, session.group_id)
    return tuple(
        Seat(
            person=each.id,
            name=each.name,
            was_there=known.get(each.id),
            said_so=each.id in said,
        )
        for each in sorted(people, key=lambda person: (person.name.casefold(), person.id))
        if each.id in could_come
    )


async def note(
    tx: Transaction,
    session: Session,
    person: Person,
    was_there: bool | None,
    reason: str,
    now: datetime,
) -> None:
    """Note whether a member was there; who wasn't isn't asked, and who was is asked after all.

    `reason` names the tap: the same one changes the member's message once.
    """
    absent_before = person.id in await stored.absent_from(tx, session.id)
    if not await stored.note_presence(tx, session.id, person.id, was_there, now):
        return
    prompt_id = prompts.prompt_id(session.id, person.id)
    prompt = await prompts.prompt_of(tx, prompt_id, person.id)
    if prompt is not None and await prompts.answers(tx, prompt):
        return  # what they have said counts, and may be changed by them alone
    if was_there is False and prompt is not None:
        await _close(tx, session, person, prompt, reason, now)
    elif was_there is not False and absent_before:
        await _ask_after_all(tx, session, person, prompt, reason, now)


async def _close(
    tx: Transaction, session: Session, person: Person, prompt: Prompt, reason: str, now: datetime
) -> None:
    """Take the open question away; one button brings it back."""
    group, speech = await groups.group(tx, session.group_id), speech_to(person)
    await prompts.show(tx, prompt, None)
    await withdraw(tx, prompt.letter, now)
    message = words.closed_as_absent(speech, group.name, speech.day(session.local_day), prompt.id)
    errand = Errand(id=f"absent/{prompt.id}/{reason}")
    await change(tx, person.account, message, errand, now, letter=prompt.letter)


async def _ask_after_all(
    tx: Transaction,
    session: Session,
    person: Person,
    prompt: Prompt | None,
    reason: str,
    now: datetime,
) -> None:
    """Put the question back, or ask it late, where that still helps and disturbs nobody."""
    plan = await plan_of(tx, session.plan_id)
    asked_at = session.ends_at + timedelta(minutes=plan.prompt_after)
    following = await sessions.session_after(tx, session)
    is_over = following is not None and now >= following.starts_at
    if is_over or not asked_at <= now < asked_at + PROMPT_USEFUL:
        return  # not asked yet, or not any more
    if await pause_of(tx, person.id, now) is not None:
        return
    if prompt is not None:
        opened = await desk.look_up(tx, prompt, person)
        await desk.show(tx, opened, SESSION, Screen(reason=f"there/{reason}"), now)
    elif not disturbs(asked_at, now, plan.timezone):
        await desk.prompt_for(tx, session, person, now)
