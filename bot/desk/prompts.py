"""Prompts: opened after a class, and moved on by every answer."""

from dataclasses import dataclass, replace
from datetime import datetime

from bot.desk.advice import Ready, work_out
from bot.desk.calendar import disturbs, plan_of
from bot.desk.letters import Errand, change, say
from bot.desk.own_times import out_of_quiet, remind_at
from bot.desk.preparing import prepare
from bot.desk.voice import speech_to
from bot.storage import groups, prompts, sessions
from bot.storage.askings import Asking, end_asking, put_asking
from bot.storage.attendance import absent_from
from bot.storage.database import Transaction
from bot.storage.dialogues import stop_typing
from bot.storage.dues import Occasion as Due
from bot.storage.members import members
from bot.storage.outbox import Kind, Priority, asked_in, withdraw
from bot.storage.pauses import pause_of, paused_members
from bot.storage.people import Person
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from bot.words.message import Message
from bot.words.prompt import (
    AGAIN,
    REMINDER,
    Occasion,
    change_message,
    question_message,
    summary_message,
)
from core.movement import Dose
from core.questions import SESSION, Answers, Question
from core.rules import PROMPT_USEFUL

NEWCOMER_FOR = 3
"""Prompts under whose questions the words of the scale stand; later they are one tap away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenPrompt:
    """A prompt with all that is needed to show it."""

    prompt: Prompt
    person: Person
    session: Session
    occasion: Occasion
    closes_at: datetime | None
    """When the next class starts; None if none is planned."""

    @property
    def answers(self) -> Answers:
        """What was said so far."""
        return self.occasion.answers


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """Which message a prompt is shown in, and what made it change."""

    reason: str
    """Names the tap or the typed answer: the same one changes the message once."""
    message_id: int | None = None
    """The message that was tapped; None for the one where the prompt is."""


async def ask_one(
    tx: Transaction, asking: Asking, now: datetime, ready: Ready | None = None
) -> None:
    """Ask or remind a member whose own time has come, unless that no longer helps."""
    session = await sessions.session(tx, asking.session_id)
    person = (await _people(tx, session)).get(asking.person_id)
    zone = (await plan_of(tx, session.plan_id)).timezone
    helps = not session.cancelled and now <= asking.not_after
    helps = helps and asking.person_id not in await absent_from(tx, session.id)
    if person is None or not helps or await pause_of(tx, person.id, now) is not None:
        await end_asking(tx, asking, now)
        return
    if asking.occasion is Due.REMINDER:
        if out_of_quiet(person.preferences, now, zone) == now:  # else it stays due
            await end_asking(tx, asking, now)
            await _remind(tx, session, person, now, asking.not_after)
        return
    await end_asking(tx, asking, now)
    ready = ready or await work_out(tx, session)
    prompt = await prepare(tx, session, ready.plan.plan, ready.advice, person, now)
    if await prompts.open_prompt(tx, prompt):
        opened = await look_up(tx, prompt, person)
        await post(tx, opened, prompt.letter, None, now, asking.not_after)
        at = remind_at(person.preferences, now, zone, now)
        await put_asking(tx, asking_of(Due.REMINDER, session, person, at, asking.not_after))


async def prompt_for(
    tx: Transaction, session: Session, person: Person, now: datetime
) -> OpenPrompt:
    """The prompt of a member who answers elsewhere; opened now if they weren't asked."""
    prompt = await prompts.prompt_of(tx, prompts.prompt_id(session.id, person.id), person.id)
    if prompt is not None:
        return await look_up(tx, prompt, person)
    ready = await work_out(tx, session)
    prompt = await prepare(tx, session, ready.plan.plan, ready.advice, person, now)
    await prompts.open_prompt(tx, prompt)
    opened = await look_up(tx, prompt, person)
    await post(tx, opened, prompt.letter, None, now, opened.closes_at)
    return opened


async def remind(tx: Transaction, session: Session, now: datetime, not_after: datetime) -> None:
    """Ask once more whoever hasn't said anything about a class."""
    people = await _people(tx, session)
    away = await paused_members(tx, session.group_id, now) | await absent_from(tx, session.id)
    zone = (await plan_of(tx, session.plan_id)).timezone
    for prompt in await prompts.prompts_of_session(tx, session.id):
        person = people.get(prompt.person_id)
        if person is None or person.id in away:
            continue
        at = remind_at(person.preferences, prompt.opened_at, zone, now)
        if at == now:
            await _remind(tx, session, person, now, not_after)
        else:
            useful = prompt.opened_at + PROMPT_USEFUL
            await put_asking(tx, asking_of(Due.REMINDER, session, person, at, useful))


async def _remind(
    tx: Transaction, session: Session, person: Person, now: datetime, not_after: datetime
) -> None:
    """Ask one member once more, if they want that and haven't said anything."""
    prompt = await prompts.prompt_of(tx, prompts.prompt_id(session.id, person.id), person.id)
    if prompt is None or not person.preferences.reminder or await prompts.answers(tx, prompt):
        return
    opened = await look_up(tx, prompt, person)
    if opened.closes_at is not None and now >= opened.closes_at:
        return
    letter = f"reminder/{prompt.id}"
    await prompts.show(tx, prompt, SESSION, letter)
    opened = await look_up(tx, prompt, person)
    await post(tx, opened, letter, REMINDER, now, not_after)


async def ask_again(tx: Transaction, since: datetime, now: datetime) -> None:
    """After an outage: taps may have been lost, so show every open question once more.

    Once only, however often the line breaks, and not at night.
    """
    for prompt in await prompts.prompts_on_screen(tx, now - PROMPT_USEFUL):
        if prompt.opened_at >= since:
            continue  # it was asked too late for a tap to get lost
        session = await sessions.session(tx, prompt.session_id)
        person = (await _people(tx, session)).get(prompt.person_id)
        if person is None or prompt.showing is None or await pause_of(tx, person.id, now):
            continue
        opened = await look_up(tx, prompt, person)
        zone = (await plan_of(tx, session.plan_id)).timezone
        closed = opened.closes_at is not None and now >= opened.closes_at
        if closed or disturbs(prompt.opened_at, now, zone):
            continue
        letter = f"again/{prompt.id}"
        if await post(tx, opened, letter, AGAIN, now, opened.closes_at):
            await prompts.show(tx, prompt, prompt.showing, letter)


async def repeat(tx: Transaction, opened: OpenPrompt, reason: str, now: datetime) -> None:
    """Put the question on screen once more at the end of the chat; `reason` names what for."""
    letter = f"again/{opened.prompt.id}/{reason}"
    if await post(tx, opened, letter, None, now, opened.closes_at):
        await prompts.show(tx, opened.prompt, opened.prompt.showing, letter)


async def look_up(tx: Transaction, prompt: Prompt, person: Person) -> OpenPrompt:
    """Everything that is needed to show a prompt."""
    session = await sessions.session(tx, prompt.session_id)
    group = await groups.group(tx, session.group_id)
    plan = await plan_of(tx, session.plan_id)
    following = await sessions.session_after(tx, session)
    return OpenPrompt(
        prompt=prompt,
        person=person,
        session=session,
        occasion=Occasion(
            speech=speech_to(person),
            prompt=prompt.id,
            group=group.name,
            on=session.local_day,
            plan=plan.plan,
            asked=prompt.asked,
            answers=await prompts.answers(tx, prompt),
            newcomer=await prompts.prompts_before(tx, prompt) < NEWCOMER_FOR,
        ),
        closes_at=_closes_at(session, following),
    )


async def with_answers(tx: Transaction, opened: OpenPrompt) -> OpenPrompt:
    """The same prompt with what was answered by now."""
    answers = await prompts.answers(tx, opened.prompt)
    return replace(opened, occasion=replace(opened.occasion, answers=answers))


def _closes_at(session: Session, following: Session | None) -> datetime | None:
    """When the next class starts; of one that didn't take place nothing could be said at all."""
    if session.cancelled:
        return session.starts_at
    return None if following is None else following.starts_at


async def show(
    tx: Transaction, opened: OpenPrompt, question: Question | None, screen: Screen, now: datetime
) -> None:
    """Put one question on screen in place of what is there; None shows what was understood.

    Of several messages with this prompt, the one that was pressed is the one they look at now.
    """
    pressed, account = screen.message_id, opened.person.account
    letter = None if pressed is None else await asked_in(tx, account, pressed)
    await prompts.show(tx, opened.prompt, question, letter)
    await stop_typing(tx, opened.person.id)
    if question is None:
        message = summary_message(opened.occasion)
    else:
        message = question_message(opened.occasion, question)
    await _replace(tx, opened, message, screen, now)


async def show_summary(
    tx: Transaction,
    opened: OpenPrompt,
    screen: Screen,
    now: datetime,
    changes: tuple[tuple[str, Dose], ...],
) -> None:
    """Put what was understood on screen once more, with the doses that are others next time."""
    await _replace(tx, opened, summary_message(opened.occasion, changes), screen, now)


async def show_answers(tx: Transaction, opened: OpenPrompt, screen: Screen, now: datetime) -> None:
    """Put everything that was said on screen, to choose what to change."""
    await _replace(tx, opened, change_message(opened.occasion), screen, now)


async def _replace(
    tx: Transaction, opened: OpenPrompt, message: Message, screen: Screen, now: datetime
) -> None:
    await withdraw(tx, opened.prompt.letter, now)  # answered: it needn't be repeated any more
    await change(
        tx,
        opened.person.account,
        message,
        Errand(id=f"screen/{opened.prompt.id}/{screen.reason}", at_once=True),
        now,
        letter=opened.prompt.letter,
        message_id=screen.message_id,
    )


async def post(
    tx: Transaction,
    opened: OpenPrompt,
    letter: str,
    note: str | None,
    now: datetime,
    not_after: datetime | None,
) -> bool:
    """Queue a message with the question on screen; false if that was done before."""
    question = opened.prompt.showing or SESSION
    await stop_typing(tx, opened.person.id)
    message = question_message(opened.occasion, question, note=note)
    errand = Errand(id=letter, priority=Priority.PROMPT, kind=Kind.PROMPT, not_after=not_after)
    return await say(tx, opened.person.account, message, errand, now)


def asking_of(
    occasion: Due, session: Session, person: Person, at: datetime, not_after: datetime
) -> Asking:
    """One member is to be asked or reminded at that moment."""
    return Asking(
        occasion=occasion,
        session_id=session.id,
        person_id=person.id,
        at=at,
        not_after=not_after,
    )


async def _people(tx: Transaction, session: Session) -> dict[str, Person]:
    return {person.id: person for person in await members(tx, session.group_id)}
