"""A class of the day: before it, in it, and the answers after it."""

from dataclasses import replace
from datetime import timedelta
from functools import partial

from bot.buttons import TapButton
from bot.desk.advice import told
from bot.storage import prompts
from bot.storage.people import person_of_account
from bot.storage.sessions import Session
from core.questions import SESSION
from core.rules import REMINDER_AFTER
from demo_script.busy_day.day import Day, Part, StagedGroup
from demo_script.busy_day.people import IN_THE_CHAT
from demo_script.cast import Actor
from demo_script.story.feeling import choose
from demo_script.story.ledger import Given
from demo_script.story.replies import reply
from demo_script.story.screen import carried, question_on_screen
from demo_script.story.tale import Tale
from demo_script.story.week import Evening, train

NOBODY: frozenset[str] = frozenset()
FIRST_ANSWER, LAST_ANSWER = 2, 40  # minutes after the prompt


def note_class(day: Day, part: Part, session: Session) -> None:
    """Note the end of a class, and when its members are asked."""
    group = day.group(part)
    prompt_at = session.ends_at + timedelta(minutes=group.tale.plan.prompt_after)
    day.agenda.note(session.ends_at, partial(_hold, day, group, session))
    day.agenda.note(prompt_at + timedelta(seconds=30), partial(_let_answer, day, group, session))


async def train_all(
    tale: Tale, session: Session, week: int, away: frozenset[str] = NOBODY
) -> Evening:
    """Everyone who is there does what they were told, as far as they can."""
    tale.ledger.sessions[week] = session.id
    evening = Evening(came=[], at_once=[], late=[], never=[])
    there = [actor for actor in tale.cast if actor.name not in away]
    async with tale.theatre.house.database.transaction() as tx:
        for actor in there:
            person = await person_of_account(tx, actor.account.person_id)
            if person is None:
                raise LookupError(f"{actor.name} hasn't joined")
            tale.ledger.told[week, actor.name] = await told(tx, session, person)
    for actor in there:
        train(tale, actor, week, evening)
    return evening


async def _hold(day: Day, group: StagedGroup, session: Session) -> None:
    evening = await train_all(group.tale, session, day.script.day)
    day.telling.note(f"The class of {group.name}: {len(evening.came)} came.")


async def _let_answer(day: Day, group: StagedGroup, session: Session) -> None:
    """They were asked just now: note when each answers, and who doesn't."""
    tale, week = group.tale, day.script.day
    prompt_at = session.ends_at + timedelta(minutes=tale.plan.prompt_after)
    tale.ledger.reminders[week] = prompt_at + REMINDER_AFTER
    async with day.theatre.house.database.transaction() as tx:
        opened = await prompts.prompts_of_session(tx, session.id)
    tale.ledger.prompts[week] = frozenset(each.id for each in opened)
    for actor in tale.cast:
        if actor.habits.answers > 0:
            minutes = int(actor.luck.integers(FIRST_ANSWER, LAST_ANSWER))
            at = prompt_at + timedelta(minutes=minutes, seconds=20)
            day.agenda.note(at, partial(_answer, day, group, actor))


async def _answer(day: Day, group: StagedGroup, actor: Actor) -> None:
    """Some tap the first answer in the group's chat, and go on in their own."""
    if group.chat is not None and actor.name in IN_THE_CHAT:
        await _tap_in_chat(day, group, actor)
    if question_on_screen(actor.account) is not None:
        await reply(group.tale, actor, day.script.day)


async def _tap_in_chat(day: Day, group: StagedGroup, actor: Actor) -> None:
    tale, week = group.tale, day.script.day
    shown = question_on_screen(actor.account)
    if shown is None or group.chat is None or shown.question != SESSION:
        raise LookupError(f"{actor.name} isn't asked how the class was")
    number = choose(tale, actor, week, shown, meant=True).carries.number
    message = group.chat.last_message
    button, _ = next(iter(carried(message, TapButton, number=round(number or 0.0))))
    press = actor.account.press(message, button.data or "")
    given = Given(
        week=week,
        member=actor.name,
        at=day.now,
        prompt=shown.prompt,
        question=str(SESSION),
        number=float(round(number or 0.0)),
        word=None,
        looked=f"class [{button.label}] in the group's chat",
    )
    seen = len(day.witness.sights)
    await day.theatre.settle()
    answer = await press.answered()
    reactions = range(seen, len(day.witness.sights))
    tale.ledger.given.append(replace(given, reactions=reactions))
    tale.line(actor.name, f"{given.looked} and sees: {answer.text}")
    tale.tell_new()
