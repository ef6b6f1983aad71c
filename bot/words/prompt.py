"""The questions after class, and what was understood."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bot.buttons import AnswerButton, ShowButton
from bot.words.dates import day_words, number_words
from bot.words.doses import amount_words, dose_words
from bot.words.message import Key, Message, bold, html
from bot.words.safety import PAIN_ADVICE, WARNING_ADVICE, WARNING_SIGNS
from core.effort import WORDS
from core.movement import Measure, Movement
from core.plan import Plan
from core.questions import (
    ABSENT,
    FINE,
    GENERAL,
    HURT,
    SKIPPED,
    UNFINISHED,
    Answers,
    Asked,
    Question,
    Said,
    Topic,
    course,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasion:
    """Which class, and what of it, a prompt is about."""

    prompt: str
    group: str
    on: date
    plan: Plan
    asked: tuple[Asked, ...]


SCALE_LINE = " · ".join(f"{point} {WORDS[point]}" for point in (0, 3, 5, 7, 9, 10))
RESERVE_SECONDS = (0, 5, 10, 15, 20, 30, 45, 60)
RESERVE_REPETITIONS = (0, 1, 2, 3, 4, 5, 6, 8)
REMINDER = "In case you missed it: one tap is enough."
AGAIN = "I was out of reach for a while. If you tapped and nothing happened, please tap again."
MOST_STEPS_BACK = 6  # how many amounts are offered to whoever stopped early


def question_message(
    occasion: Occasion, question: Question, answers: Answers, *, note: str = ""
) -> Message:
    """One question with its buttons; `note` is a line above it, such as on a reminder."""
    lines = [f"{bold(occasion.group)} · {day_words(occasion.on)}", *([note] if note else []), ""]
    lines += [_text(occasion, question)]
    held = answers.get(str(question))
    if held is not None:
        lines += ["", f"So far: {html(said_words(occasion, question, held))}"]
    rows = (*_answer_rows(occasion, question), _way_row(occasion, question, answers))
    return Message(text="\n".join(lines), rows=tuple(row for row in rows if row))


def summary_message(occasion: Occasion, answers: Answers) -> Message:
    """What was understood, and the way to change it."""
    lines = [f"{bold(occasion.group)} · {day_words(occasion.on)}", ""]
    if _word(answers, HURT) == "warning":
        lines += [WARNING_ADVICE, ""]
    lines += ["Thank you, this is noted:"]
    lines += [
        f"• {html(_label(occasion, each))}: {html(said_words(occasion, each, answers[str(each)]))}"
        for each in course(occasion.asked, answers)
        if str(each) in answers
    ]
    if _word(answers, HURT) == "pain":
        lines += ["", PAIN_ADVICE]
    lines += ["", "You can change it until the next class starts."]
    change = Key("Change an answer", ShowButton(occasion.prompt))
    return Message(text="\n".join(lines), rows=((change,),))


def change_message(occasion: Occasion, answers: Answers) -> Message:
    """Which answer do you want to change?"""
    rows = [
        (
            Key(
                _short(f"{_label(occasion, each)}: {_said(occasion, each, answers)}"),
                ShowButton(occasion.prompt, each),
            ),
        )
        for each in course(occasion.asked, answers)
        if str(each) in answers
    ]
    return Message(text="Which answer do you want to change?", rows=tuple(rows))


def said_words(occasion: Occasion, question: Question, said: Said) -> str:
    """One answer in words."""
    if said.word is not None:
        return _WORD[said.word]
    number = said.number if said.number is not None else 0.0
    match question.topic:
        case Topic.SESSION | Topic.EFFORT | Topic.HURT:
            return number_words(number)
        case Topic.COMPLETED:
            return f"got to {_amount(occasion, question, number)}"
        case Topic.RESERVE:
            return f"{_amount(occasion, question, number)} left"
        case Topic.WHERE:
            return occasion.plan.lines[int(number)].movement.name


_WORD: Mapping[str, str] = {
    ABSENT: "wasn't there",
    UNFINISHED: "stopped early",
    SKIPPED: "skipped",
    FINE: "all fine",
    GENERAL: "not one movement",
    "soreness": "sore muscles",
    "pain": "joint or sharp pain",
    "warning": "a warning sign",
}


def _text(occasion: Occasion, question: Question) -> str:
    match question.topic:
        case Topic.SESSION:
            return f"How hard was the whole class for you?\n<i>{SCALE_LINE}</i>"
        case Topic.EFFORT:
            each = _asked(occasion, question)
            movement = _movement(occasion, question)
            count = f"{(question.place or 0) + 1} of {len(occasion.asked)}"
            dose = dose_words(each.dose, movement) if movement else each.dose.variation
            return (
                f"{bold(each.movement)} ({count})\n{html(dose)}\n"
                f"How hard was it?\n<i>{SCALE_LINE}</i>"
            )
        case Topic.COMPLETED:
            movement_name = bold(_asked(occasion, question).movement)
            return f"{movement_name}\nHow far did you get, in the last set?"
        case Topic.RESERVE:
            unit = "more seconds" if _is_hold(occasion, question) else "more repetitions"
            return (
                f"{bold(_asked(occasion, question).movement)}\n"
                f"How many {unit} would have been possible?"
            )
        case Topic.HURT:
            return f"Did anything hurt or feel wrong?\n<i>Warning signs: {WARNING_SIGNS}.</i>"
        case Topic.WHERE:
            return "During which movement?"


def _answer_rows(occasion: Occasion, question: Question) -> tuple[tuple[Key, ...], ...]:
    def number(value: float, label: str | None = None) -> Key:
        button = AnswerButton(occasion.prompt, question, number=value)
        return Key(label or f"{value:g}", button)

    def word(value: str, label: str) -> Key:
        return Key(label, AnswerButton(occasion.prompt, question, word=value))

    scale = (tuple(map(number, range(6))), tuple(map(number, range(6, 11))))
    match question.topic:
        case Topic.SESSION:
            return (*scale, (word(ABSENT, "I wasn't there"),))
        case Topic.EFFORT:
            return (*scale, (word(UNFINISHED, "I stopped early"),))
        case Topic.COMPLETED:
            return _in_rows([number(each) for each in steps_back(occasion, question)])
        case Topic.RESERVE:
            values = RESERVE_SECONDS if _is_hold(occasion, question) else RESERVE_REPETITIONS
            last = number(values[-1], f"{values[-1]} or more")
            return _in_rows([*map(number, values[:-1]), last])
        case Topic.HURT:
            return (
                (word(FINE, "No, all fine"),),
                (word("soreness", "Sore muscles"),),
                (word("pain", "Joint or sharp pain"),),
                (word("warning", "A warning sign"),),
            )
        case Topic.WHERE:
            names = [line.movement.name for line in occasion.plan.lines]
            keys = [(number(place, _short(name)),) for place, name in enumerate(names)]
            return (*keys, (word(GENERAL, "Not one of them"),))


def _way_row(occasion: Occasion, question: Question, answers: Answers) -> tuple[Key, ...]:
    questions = course(occasion.asked, answers)
    keys = []
    if question in questions and questions.index(question) > 0:
        earlier = questions[questions.index(question) - 1]
        keys.append(Key("Back", ShowButton(occasion.prompt, earlier)))
    skip = AnswerButton(occasion.prompt, question, word=SKIPPED)
    return (*keys, Key("Skip", skip))


def steps_back(occasion: Occasion, question: Question) -> tuple[float, ...]:
    """Amounts below the dose that someone may have got to, in the movement's own steps."""
    each, movement = _asked(occasion, question), _movement(occasion, question)
    step = movement.step if movement else 1.0
    most = int((each.dose.amount - 1e-9) // step)
    every = max(1, -(-most // MOST_STEPS_BACK))
    return tuple(step * place for place in range(most, 0, -every))[::-1]


def _in_rows(keys: Sequence[Key], most: int = 4) -> tuple[tuple[Key, ...], ...]:
    return tuple(tuple(keys[start : start + most]) for start in range(0, len(keys), most))


def _label(occasion: Occasion, question: Question) -> str:
    match question:
        case Question(topic=Topic.SESSION):
            return "Whole class"
        case Question(topic=Topic.HURT):
            return "Anything wrong"
        case Question(topic=Topic.WHERE):
            return "During"
        case _:
            return _asked(occasion, question).movement


def _said(occasion: Occasion, question: Question, answers: Answers) -> str:
    return said_words(occasion, question, answers[str(question)])


def _asked(occasion: Occasion, question: Question) -> Asked:
    return occasion.asked[question.place or 0]


def _movement(occasion: Occasion, question: Question) -> Movement | None:
    line = occasion.plan.line(_asked(occasion, question).movement)
    return line.movement if line else None


def _amount(occasion: Occasion, question: Question, number: float) -> str:
    movement = _movement(occasion, question)
    return amount_words(number, movement.measure) if movement else number_words(number)


def _is_hold(occasion: Occasion, question: Question) -> bool:
    movement = _movement(occasion, question)
    return movement is not None and movement.measure is Measure.HOLD


def _short(label: str, most: int = 60) -> str:
    return label if len(label) <= most else label[: most - 1] + "…"


def _word(answers: Answers, question: Question) -> str | None:
    said = answers.get(str(question))
    return said.word if said else None
