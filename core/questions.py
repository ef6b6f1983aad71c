"""The questions after class: which comes next, and what the answers add up to."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import StrEnum

from core.effort import MAXIMUM
from core.movement import Dose
from core.reports import Bout, SessionRating
from core.rules import RESERVE_FROM_EFFORT, RESERVE_UP_TO_EFFORT


class Topic(StrEnum):
    """What a question is about. The values stand in buttons and in the database."""

    SESSION = "c"
    """How hard the whole class was: a number, or `absent`."""
    VARIATION = "v"
    """Which variation they really did: its place on the ladder. Asked only on their own wish."""
    AMOUNT = "n"
    """How much of it: seconds, repetitions or minutes of one set."""
    LOAD = "l"
    """With how many kilograms."""
    EFFORT = "e"
    """How hard a movement was: a number, or `unfinished`."""
    COMPLETED = "d"
    """How far they got, where they stopped early: the amount of the last set."""
    RESERVE = "r"
    """How much more would have been possible: seconds or repetitions."""
    HURT = "h"
    """Whether anything hurt or felt wrong: a symptom kind, or `fine`."""
    WHERE = "w"
    """During which movement: its place in the plan, or `general`."""


ABSENT = "absent"
UNFINISHED = "unfinished"
FINE = "fine"
GENERAL = "general"
SKIPPED = "skipped"
"""Any question may be passed over."""

ABOUT_A_MOVEMENT = (
    Topic.VARIATION,
    Topic.AMOUNT,
    Topic.LOAD,
    Topic.EFFORT,
    Topic.COMPLETED,
    Topic.RESERVE,
)
"""Topics whose questions carry the place of an asked movement."""

WORDS: Mapping[Topic, tuple[str, ...]] = {
    Topic.SESSION: (ABSENT, SKIPPED),
    Topic.VARIATION: (SKIPPED,),
    Topic.AMOUNT: (SKIPPED,),
    Topic.LOAD: (SKIPPED,),
    Topic.EFFORT: (UNFINISHED, SKIPPED),
    Topic.COMPLETED: (SKIPPED,),
    Topic.RESERVE: (SKIPPED,),
    Topic.HURT: (FINE, "soreness", "pain", "warning", SKIPPED),
    Topic.WHERE: (GENERAL, SKIPPED),
}


@dataclass(frozen=True, slots=True)
class Question:
    """One question; `place` counts the asked movements from 0 and is None for the others."""

    topic: Topic
    place: int | None = None

    def __str__(self) -> str:
        """The short form that buttons and the database carry, such as `e0`."""
        return self.topic if self.place is None else f"{self.topic}{self.place}"

    @property
    def is_rating(self) -> bool:
        """Whether a number that answers it is a rating."""
        return self.topic in (Topic.SESSION, Topic.EFFORT)

    @classmethod
    def read(cls, text: str) -> "Question | None":
        """The question of that short form; None if there is no such question."""
        try:
            topic = Topic(text[:1])
        except ValueError:
            return None
        if topic in ABOUT_A_MOVEMENT:
            return cls(topic, int(text[1:])) if text[1:] in ("0", "1", "2") else None
        return cls(topic) if len(text) == 1 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A movement that this member is asked about, with what they were to do of it."""

    movement: str
    dose: Dose
    ladder: tuple[str, ...] = ()
    """Names of the movement's variations, easiest first."""
    reserve: bool = False
    """Whether the question about the reserve is worth its tap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One answer: a number or a word, never both."""

    number: float | None = None
    word: str | None = None
    at: datetime
    on_6_20: float | None = None
    """The rating as it was given, where that was on the scale from 6 to 20."""


Answers = Mapping[str, Said]
"""Answers by the short form of their question."""

SESSION, HURT, WHERE = Question(Topic.SESSION), Question(Topic.HURT), Question(Topic.WHERE)


def course(asked: tuple[Asked, ...], answers: Answers) -> tuple[Question, ...]:
    """All questions in order, as far as the answers so far decide which they are."""
    if _word(answers, SESSION) == ABSENT:
        return (SESSION,)
    questions = [SESSION]
    for place, each in enumerate(asked):
        effort = Question(Topic.EFFORT, place)
        questions += [*_what_else(each, place, answers), effort]
        if _word(answers, effort) == UNFINISHED:
            questions.append(Question(Topic.COMPLETED, place))
        elif each.reserve and _worth_asking_reserve(_number(answers, effort)):
            questions.append(Question(Topic.RESERVE, place))
    questions.append(HURT)
    if _word(answers, HURT) == "pain":
        questions.append(WHERE)
    return tuple(questions)


def _what_else(each: Asked, place: int, answers: Answers) -> list[Question]:
    """What they did instead of what they were told, once they have said that they did."""
    variation = Question(Topic.VARIATION, place)
    if str(variation) not in answers:
        return []
    amount, load = Question(Topic.AMOUNT, place), Question(Topic.LOAD, place)
    return [variation, amount] if each.dose.load is None else [variation, amount, load]


def next_question(asked: tuple[Asked, ...], answers: Answers) -> Question | None:
    """The first question that isn't answered yet; None when all is said."""
    return next((each for each in course(asked, answers) if str(each) not in answers), None)


def previous_question(
    asked: tuple[Asked, ...], answers: Answers, question: Question
) -> Question | None:
    """The question that comes before this one; None before the first."""
    if question.topic is Topic.VARIATION and str(question) not in answers:
        return Question(Topic.EFFORT, question.place)  # where they came from
    questions = course(asked, answers)
    place = questions.index(question) if question in questions else 0
    return questions[place - 1] if place > 0 else None


def session_rating(
    answers: Answers, *, member: str, session: str, on: date, minutes: float
) -> SessionRating | None:
    """What was said about the whole session; None if nothing was."""
    said = answers.get(str(SESSION))
    if said is None:
        return None
    return SessionRating(
        member=member,
        session=session,
        on=on,
        said_at=said.at,
        attended=said.word != ABSENT,
        effort=said.number,
        minutes=minutes,
    )


def bouts(
    asked: tuple[Asked, ...],
    answers: Answers,
    *,
    told: tuple[tuple[str, Dose], ...] = (),
    member: str,
    session: str,
    on: date,
) -> tuple[Bout, ...]:
    """What was said about movements, and what was done of the others.

    Stopping early counts as maximal when how far isn't known. Whoever was there is taken to have
    done what they were told (`told`, by movement) where they said nothing else; they just didn't
    rate it.
    """
    session_said = answers.get(str(SESSION))
    if session_said is not None and session_said.word == ABSENT:
        return ()
    rated = [_bout(each, place, answers, member, session, on) for place, each in enumerate(asked)]
    found = {each.movement: each for each in rated if each is not None}
    if session_said is not None:
        for movement, dose in told:
            found.setdefault(
                movement,
                Bout(
                    member=member,
                    session=session,
                    on=on,
                    said_at=session_said.at,
                    movement=movement,
                    dose=dose,
                ),
            )
    return tuple(found.values())


def _bout(
    each: Asked, place: int, answers: Answers, member: str, session: str, on: date
) -> Bout | None:
    """What was said about one asked movement; None if nothing was. Skipping leaves it unrated."""
    said = answers.get(str(Question(Topic.EFFORT, place)))
    if said is None:
        return None
    unfinished, dose = said.word == UNFINISHED, done(each, place, answers)
    completed = _number(answers, Question(Topic.COMPLETED, place)) if unfinished else None
    if completed is not None and completed >= dose.amount:
        completed = None  # what they did was changed later, and how far they got wasn't
    reserve = None if unfinished else _number(answers, Question(Topic.RESERVE, place))
    return Bout(
        member=member,
        session=session,
        on=on,
        said_at=said.at,
        movement=each.movement,
        dose=dose,
        completed=completed,
        effort=_effort(said, completed),
        reserve=reserve,
    )


def done(each: Asked, place: int, answers: Answers) -> Dose:
    """The dose that was really done: what they were told, or what they say they did instead."""
    rung = _number(answers, Question(Topic.VARIATION, place))
    amount = _number(answers, Question(Topic.AMOUNT, place))
    load = _number(answers, Question(Topic.LOAD, place))
    told = each.dose
    if rung is None and amount is None and load is None:
        return told
    return replace(
        told,
        variation=told.variation if rung is None else each.ladder[int(rung)],
        amount=told.amount if amount is None else amount,
        load=told.load if load is None else load,
    )


def _effort(said: Said, completed: float | None) -> float | None:
    """What was tapped; who stopped early and didn't say where, was at the maximum all the same."""
    if said.word != UNFINISHED:
        return said.number
    return MAXIMUM if completed is None else None


def _worth_asking_reserve(effort: float | None) -> bool:
    return effort is not None and RESERVE_FROM_EFFORT <= effort < RESERVE_UP_TO_EFFORT


def _word(answers: Answers, question: Question) -> str | None:
    said = answers.get(str(question))
    return said.word if said else None


def _number(answers: Answers, question: Question) -> float | None:
    said = answers.get(str(question))
    return said.number if said else None
