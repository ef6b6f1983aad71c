"""How a member answers the questions after class, one after the other, tapping or typing."""

from collections.abc import AsyncGenerator
from dataclasses import dataclass, replace

from bot.buttons import ShowButton
from core.questions import Topic
from demo_script.cast import Actor
from demo_script.stand_in import Message
from demo_script.story.feeling import as_typed, choose
from demo_script.story.ledger import Given
from demo_script.story.screen import Shown, carried, movement_named, question_in, question_on_screen
from demo_script.story.tale import Tale

MOST_QUESTIONS = 20  # a conversation that is longer goes round in circles
WORDS_FIRST = "quite hard, really"
LABELS = {Topic.SESSION: "class", Topic.RESERVE: "left", Topic.COMPLETED: "got to"}


async def reply(tale: Tale, actor: Actor, week: int, *, full: bool = False) -> None:
    """Answer the newest prompt to its end; `full` tells every step of it."""
    shown = question_on_screen(actor.account)
    if shown is None:
        raise LookupError(f"{actor.name} is asked nothing")
    if actor.habits.chats and week == 1:
        await _words_first(tale, actor)
    await Conversation(tale=tale, actor=actor, week=week, full=full).go_on(shown)


async def correct(tale: Tale, actor: Actor, week: int) -> None:
    """Change the first answer of the newest prompt to what was meant."""
    summary = next(m for m in reversed(actor.account.messages) if any(carried(m, ShowButton)))
    began = [label async for label in _to_first_answer(tale, actor, summary)]
    shown = question_in(actor.account.private.messages[summary.message_id])
    if shown is None:
        raise LookupError(f"{actor.name} can't change the answer")
    tale.line(actor.name, f"corrects an answer: {' '.join(f'[{label}]' for label in began)}")
    await Conversation(tale=tale, actor=actor, week=week, meant=True).go_on(shown)


@dataclass(slots=True, kw_only=True)
class Conversation:
    """One member with one prompt."""

    tale: Tale
    actor: Actor
    week: int
    full: bool = False
    """Whether every step is told, or one line for all of them."""
    meant: bool = False
    """Whether they take care that no finger slips."""

    async def go_on(self, shown: Shown) -> None:
        """From this question to the last."""
        began, looks = self.tale.now, []
        for _ in range(MOST_QUESTIONS):
            looks.append(await self._step(shown))
            screen = self.actor.account.private.messages[shown.message.message_id]
            following = question_in(screen)
            if following is None:
                break
            shown = following
        else:
            raise RuntimeError(f"{self.actor.name} is asked for ever: {shown.message.text!r}")
        if self.full:
            self.tale.telling.close_up(self.tale.now, (self.actor.name,), screen)
        else:
            self.tale.telling.line(began, self.actor.name, " · ".join(looks))
        self.tale.tell_new()

    async def _step(self, shown: Shown) -> str:
        """Give one answer, write it down as it was meant, and say how it looked."""
        if self.full:
            self.tale.telling.close_up(self.tale.now, (self.actor.name,), shown.message)
        seen = len(self.tale.witness.sights)
        given = self._give(shown)
        if self.full:
            self.tale.line(self.actor.name, given.looked)
        await self.tale.theatre.settle()
        reactions = range(seen, len(self.tale.witness.sights))
        self.tale.ledger.given.append(replace(given, reactions=reactions))
        return given.looked

    def _give(self, shown: Shown) -> Given:
        """Tap or type."""
        topic, actor = shown.question.topic, self.actor
        offer = choose(self.tale, actor, self.week, shown, meant=self.meant)
        carries, typed = offer.carries, None
        if carries.number is not None and actor.does(actor.habits.types):
            typed, number = as_typed(actor, topic, carries.number)
            carries = replace(carries, number=number)
            actor.account.say(typed)
        else:
            actor.account.press(shown.message, carries.write())
        movement = None
        if topic is Topic.EFFORT:
            movement = movement_named(shown.message.text, self.tale.movements)
        answer = f"[{offer.button.label}]" if typed is None else f"“{typed}”"
        return Given(
            week=self.week,
            member=actor.name,
            at=self.tale.now,
            prompt=shown.prompt,
            question=str(shown.question),
            number=carries.number,
            word=carries.word,
            movement=movement,
            typed=typed,
            looked=" ".join(filter(None, (movement or LABELS.get(topic), answer))),
        )


async def _to_first_answer(tale: Tale, actor: Actor, message: Message) -> AsyncGenerator[str]:
    """Press the button that leads back to the answers, then the first of them."""
    for _ in range(2):
        screen = actor.account.private.messages[message.message_id]
        button, _carries = next(iter(carried(screen, ShowButton)))
        actor.account.press(screen, button.data or "")
        await tale.theatre.settle()
        yield button.label


async def _words_first(tale: Tale, actor: Actor) -> None:
    """Words where a number is asked for: the bot explains, and nothing is stored."""
    actor.account.say(WORDS_FIRST)
    tale.line(actor.name, f"“{WORDS_FIRST}”")
    await tale.settle()
