"""Answer the questions after class: by button, by typing, and changing an answer later."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from functools import partial

from bot.buttons import AnswerButton, ShowButton, View, accepts
from bot.chat.visit import Visit
from bot.desk import prompts as desk
from bot.desk.answering import keep
from bot.desk.next_time import tell_next_time
from bot.desk.prompts import OpenPrompt, Screen
from bot.storage import prompts
from bot.storage.people import Person
from bot.words import help as words
from bot.words import toasts
from bot.words.joining import STRANGER
from bot.words.message import Message
from bot.words.prompt import closed_message
from bot.words.speech import Speech
from core.effort import Scale, read_rating_on
from core.questions import Question, Said, Topic, next_question
from core.typed import Typed, split_answers

UNITS = (
    r"s|sec|seconds?|seg|segundos?|sek|sekunden?|min|minutes?|minutos?|minuten?|kg|kilos?|"
    r"reps?|repetitions?|repetición|repeticiones|wdh|wiederholung(?:en)?"
)
"""What people write behind a number, in the languages that we speak."""
PLAIN_NUMBER = re.compile(
    rf"\s*([0-9]{{1,4}}(?:[.,][0-9]{{1,2}})?)\s*(?:(?:{UNITS})\.?)?\s*", re.IGNORECASE
)
LATEST = 5  # prompts that a typed answer may belong to


async def press(visit: Visit) -> None:
    """A button with an answer."""
    button = AnswerButton.read(visit.data)
    opened = None if button is None else await _mine(visit, button.prompt)
    if button is None or opened is None:
        visit.toast = toasts.NOT_YOURS
        return
    said = Said(number=button.number, on_6_20=button.on_6_20, word=button.word, at=visit.now)
    if closed(visit, opened):
        await _close(visit, opened)
        return
    if not _possible(opened, button.question, said):  # it was, before another answer changed
        visit.toast = toasts.OUTDATED
        return
    await _keep(visit, opened, {button.question: said})


async def show(visit: Visit) -> None:
    """A button that leads back to a question, or to everything that was said."""
    button = ShowButton.read(visit.data)
    opened = None if button is None else await _mine(visit, button.prompt)
    if button is None or opened is None:
        visit.toast = toasts.NOT_YOURS
        return
    screen = Screen(reason=str(visit.update_id), message_id=visit.pressed)
    if closed(visit, opened):
        await _close(visit, opened)
    elif button.view is View.ANSWERS:
        await desk.show_answers(visit.tx, opened, screen, visit.now)
    elif button.view is View.SUMMARY:
        following = next_question(opened.prompt.asked, opened.answers)  # an old button may hurry
        await desk.show(visit.tx, opened, following, screen, visit.now)
        _tell_next_time(visit, opened, screen)
    elif button.view is View.SCALE:
        twenty = visit.speech.scale is Scale.TWENTY
        visit.toast = toasts.SCALE_6_20 if twenty else toasts.SCALE
    elif _place_exists(opened, button.view):
        await desk.show(visit.tx, opened, button.view, screen, visit.now)
    else:
        visit.toast = toasts.OUTDATED


async def typed(visit: Visit) -> None:
    """Something was written that is no command: an answer to the question on screen, if any is."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    opened = await on_screen(visit, visit.person)
    question = None if opened is None else opened.prompt.showing
    if opened is None or question is None:
        await visit.say(words.NOTHING_ASKED(visit.speech))
        return
    if closed(visit, opened):
        await visit.say(words.CLOSED(visit.speech))
        return
    answers = _typed_answers(visit, opened, question)
    if answers is None:
        await visit.say(_explain(question, opened.prompt.scale)(visit.speech))
        return
    await _keep(visit, opened, answers)


async def leave_open(visit: Visit, person: Person) -> bool:
    """Leave the question on screen open; false if there is none."""
    opened = await on_screen(visit, person)
    if opened is None:
        return False
    await prompts.show(visit.tx, opened.prompt, None)
    return True


def _typed_answers(
    visit: Visit, opened: OpenPrompt, on_screen: Question
) -> dict[Question, Said] | None:
    """What was typed, by question: all of it or, if a part isn't understood, nothing."""
    several = on_screen.topic in (Topic.SESSION, Topic.EFFORT)
    names = [each.movement for each in opened.prompt.asked]
    parts = split_answers(visit.text, names) if several else (Typed(None, visit.text),)
    answers: dict[Question, Said] = {}
    for part in parts or ():
        named = part.place is not None
        question = Question(Topic.EFFORT, part.place) if named else on_screen
        said = _read(question, part.value, opened.prompt.scale, visit.now)
        if said is None or question in answers or not _possible(opened, question, said):
            return None
        answers[question] = said
    return answers or None


async def _keep(visit: Visit, opened: OpenPrompt, answers: Mapping[Question, Said]) -> None:
    """Store answers with all that follows from them, and put the next question on screen."""
    screen = Screen(reason=str(visit.update_id), message_id=visit.pressed)
    following = await keep(visit.tx, opened, answers, screen, visit.update_id, visit.now)
    if following is None:
        _tell_next_time(visit, opened, screen)
    in_danger = any(said.word == "warning" for said in answers.values())
    visit.toast = toasts.GET_HELP if in_danger else toasts.NOTED


def _tell_next_time(visit: Visit, opened: OpenPrompt, screen: Screen) -> None:
    """Let what was understood be followed by what changes next time, once that is worked out."""
    later = replace(screen, reason=f"{screen.reason}/next")
    visit.afterwards = partial(
        tell_next_time,
        visit.rooms.database,
        visit.rooms.next_times,
        opened.prompt.id,
        opened.person,
        later,
        visit.now,
    )


async def _close(visit: Visit, opened: OpenPrompt) -> None:
    """Answers no longer change: what is shown loses its buttons and says so."""
    visit.toast = toasts.CLOSED
    await visit.replace(closed_message(opened.occasion))


async def _mine(visit: Visit, prompt_id: str) -> OpenPrompt | None:
    if visit.person is None:
        return None
    prompt = await prompts.prompt_of(visit.tx, prompt_id, visit.person.id)
    return None if prompt is None else await desk.look_up(visit.tx, prompt, visit.person)


async def on_screen(visit: Visit, person: Person) -> OpenPrompt | None:
    """The latest prompt with a question on screen, one that still takes answers if there is one."""
    late = None
    for prompt in await prompts.latest_prompts(visit.tx, person.id, LATEST):
        if prompt.showing is None:
            continue
        opened = await desk.look_up(visit.tx, prompt, person)
        if not closed(visit, opened):
            return opened
        late = late or opened
    return late


def closed(visit: Visit, opened: OpenPrompt) -> bool:
    """Whether it came after the next class had started, when answers no longer change."""
    return opened.closes_at is not None and visit.came >= opened.closes_at


def _possible(opened: OpenPrompt, question: Question, said: Said) -> bool:
    """Whether this can be an answer here; the button's pattern can't know how many there are."""
    if not _place_exists(opened, question):
        return False
    if said.number is None:
        return True
    if question.topic is Topic.WHERE and said.number >= len(opened.occasion.plan.lines):
        return False
    if question.topic is Topic.VARIATION:
        return said.number < len(opened.occasion.about(question).ladder)
    if question.topic is Topic.COMPLETED and said.number >= opened.occasion.dose(question).amount:
        return False  # who stopped early did less than all of it
    return accepts(question, said.number)


def _place_exists(opened: OpenPrompt, question: Question) -> bool:
    return question.place is None or question.place < len(opened.prompt.asked)


def _read(question: Question, text: str, scale: Scale, at: datetime) -> Said | None:
    match question.topic:
        case Topic.SESSION | Topic.EFFORT:
            rating = read_rating_on(scale, text)
            return rating and Said(number=rating[0], on_6_20=rating[1], at=at)
        case Topic.COMPLETED | Topic.RESERVE | Topic.AMOUNT | Topic.LOAD:
            found = PLAIN_NUMBER.fullmatch(text)
            return Said(number=float(found[1].replace(",", ".")), at=at) if found else None
        case Topic.VARIATION | Topic.HURT | Topic.WHERE:
            return None


def _explain(question: Question, scale: Scale) -> Callable[[Speech], Message]:
    match question.topic:
        case Topic.SESSION | Topic.EFFORT:
            return words.NOT_A_RATING if scale is Scale.TEN else words.NOT_A_RATING_6_20
        case Topic.COMPLETED:
            return words.NOT_PART_OF_IT
        case Topic.RESERVE | Topic.AMOUNT | Topic.LOAD:
            return words.NOT_AN_AMOUNT
        case Topic.VARIATION | Topic.HURT | Topic.WHERE:
            return words.USE_THE_BUTTONS
