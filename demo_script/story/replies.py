"""How a member answers the questions after class: from what is on screen and what they felt."""

from dataclasses import replace

import numpy as np

from bot.buttons import AnswerButton, ShowButton
from core.questions import ABSENT, FINE, UNFINISHED, Topic
from demo_script.cast import Actor
from demo_script.stand_in import Message
from demo_script.story.ledger import Given
from demo_script.story.screen import Asked, asked_in, carried, movement_named, question_on_screen
from demo_script.story.tale import Tale

MOST_QUESTIONS = 20  # a conversation that is longer goes round in circles
SORE = 0.08  # share of classes after which somebody mentions sore muscles
SLIP = 2  # points beside what was meant, by whoever corrects it next day
WORDS_FIRST = "quite hard, really"
LABELS = {Topic.SESSION: "class", Topic.RESERVE: "left", Topic.COMPLETED: "got to"}


async def reply(tale: Tale, actor: Actor, week: int, *, full: bool = False) -> None:
    """Answer the newest prompt to its end, tapping or typing."""
    asked = question_on_screen(actor.account)
    if asked is None:
        raise LookupError(f"{actor.name} is asked nothing")
    if actor.habits.chats and week == 1:
        await _chat_first(tale, actor)
    await _finish(tale, actor, week, asked, full=full)


async def correct(tale: Tale, actor: Actor, week: int) -> None:
    """Change the first answer of the newest prompt to what was meant."""
    summary = next(m for m in reversed(actor.account.messages) if any(carried(m, ShowButton)))
    choices = await _follow(tale, actor, summary)
    question = await _follow(tale, actor, choices)
    asked = asked_in(question)
    if asked is None:
        raise LookupError(f"{actor.name} can't change the answer")
    tale.line(actor.name, "corrects an answer: [Change an answer] and then")
    await _finish(tale, actor, week, asked, meant=True)


async def _follow(tale: Tale, actor: Actor, message: Message) -> Message:
    """Press the first button that leads on, and look at the message again."""
    button, _ = next(iter(carried(message, ShowButton)))
    actor.account.press(message, button.data or "")
    await tale.theatre.settle()
    return actor.account.private.messages[message.message_id]


async def _finish(
    tale: Tale, actor: Actor, week: int, asked: Asked, *, full: bool = False, meant: bool = False
) -> None:
    """From this question to the last; `meant` says that there is no slip this time."""
    began, pieces = tale.now, []
    message_id, following = asked.message.message_id, asked
    for _ in range(MOST_QUESTIONS):
        if full:
            tale.telling.close_up(tale.now, (actor.name,), following.message)
        piece = await _answer(tale, actor, week, following, meant=meant)
        pieces.append(piece)
        if full:
            tale.line(actor.name, piece)
        screen = actor.account.private.messages[message_id]
        found = asked_in(screen)
        if found is None:
            if full:
                tale.telling.close_up(tale.now, (actor.name,), screen)
            else:
                tale.telling.line(began, actor.name, " · ".join(pieces))
            tale.tell_new()
            return
        following = found
    raise RuntimeError(f"{actor.name} is asked for ever: {following.message.text!r}")


async def _answer(tale: Tale, actor: Actor, week: int, asked: Asked, *, meant: bool) -> str:
    """Give one answer, write it down as it was meant, and say how it looked."""
    carries, label = _decide(tale, actor, week, asked, meant=meant)
    typed = None
    if carries.number is not None and actor.does(actor.habits.types):
        typed, number = _as_typed(actor, asked.question.topic, carries.number)
        carries = replace(carries, number=number)
        actor.account.say(typed)
    else:
        actor.account.press(asked.message, carries.write())
    movement = None
    if asked.question.topic is Topic.EFFORT:
        movement = movement_named(asked.message.text, tale.movements)
    subject = movement or LABELS.get(asked.question.topic)
    looked = " ".join(filter(None, (subject, f"“{typed}”" if typed else f"[{label}]")))
    tale.ledger.given.append(
        Given(
            week=week,
            member=actor.name,
            at=tale.now,
            prompt=asked.prompt,
            question=str(asked.question),
            number=carries.number,
            word=carries.word,
            movement=movement,
            typed=typed,
            looked=looked,
        )
    )
    await tale.theatre.settle()
    return looked


def _decide(
    tale: Tale, actor: Actor, week: int, asked: Asked, *, meant: bool
) -> tuple[AnswerButton, str]:
    """The button for what this member felt, and what it says."""
    efforts = tale.ledger.efforts(week, actor.name)
    topic = asked.question.topic
    if topic is Topic.SESSION:
        offer = asked.nearest(_whole(tale, actor, week, meant)) if efforts else asked.word(ABSENT)
        return offer.carries, offer.button.label
    if topic is Topic.HURT:
        offer = asked.word(_hurt(tale, actor, week))
    elif topic is Topic.WHERE:
        offer = asked.labelled(tale.script.painful)
    else:
        felt = efforts[movement_named(asked.message.text, tale.movements) or ""]
        if topic is Topic.RESERVE:
            offer = asked.nearest(felt.reserve)
        elif felt.completed is None:
            offer = asked.nearest(felt.rating)
        elif topic is Topic.EFFORT:
            offer = asked.word(UNFINISHED)
        else:
            offer = asked.nearest(felt.completed)
    return offer.carries, offer.button.label


def _whole(tale: Tale, actor: Actor, week: int, meant: bool) -> float:
    """The class as a whole: about the mean of its movements."""
    efforts = tale.ledger.efforts(week, actor.name).values()
    felt = actor.body.rate(float(np.mean([each.true_effort for each in efforts])))
    slips = actor.habits.corrects and week == tale.script.corrects and not meant
    if not slips:
        return felt
    return felt + SLIP if felt + SLIP <= 9 else felt - SLIP


def _hurt(tale: Tale, actor: Actor, week: int) -> str:
    if actor.habits.hurts and week == tale.script.hurts:
        return "pain"
    return "soreness" if actor.does(SORE) else FINE


def _as_typed(actor: Actor, topic: Topic, number: float) -> tuple[str, float]:
    """One of the ways in which people write a number, and the number that it is."""
    if topic not in (Topic.SESSION, Topic.EFFORT):
        return f"{number:g}", number
    form = int(actor.luck.integers(4))
    if form == 3:
        between = abs(number - 0.5)
        return f"{between:.1f}".replace(".", ","), between
    return (f"{number:g}", f"{number:g}/10", f"{10 * number:g} %")[form], number


async def _chat_first(tale: Tale, actor: Actor) -> None:
    """Words where a number is asked for: the bot explains, and nothing is stored."""
    actor.account.say(WORDS_FIRST)
    tale.line(actor.name, f"“{WORDS_FIRST}”")
    await tale.settle()
