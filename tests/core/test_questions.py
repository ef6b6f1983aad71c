"""The questions after class: which comes next, and what the answers add up to."""

from datetime import UTC, date, datetime, timedelta

import pytest

from core.movement import Dose
from core.questions import (
    ABSENT,
    FINE,
    HURT,
    SESSION,
    SKIPPED,
    UNFINISHED,
    WHERE,
    Answers,
    Asked,
    Question,
    Said,
    Topic,
    bouts,
    course,
    next_question,
    previous_question,
    session_rating,
)

AT = datetime(2026, 3, 2, 20, tzinfo=UTC)
ON = date(2026, 3, 2)
PLANK = Asked(
    movement="Side plank",
    dose=Dose(variation="knees bent", amount=30, sets=2),
    ladder=("knees bent", "feet stacked"),
    reserve=True,
)
SQUAT = Asked(
    movement="Squat", dose=Dose(variation="to parallel", amount=8, load=12), ladder=("to parallel",)
)
ASKED = (PLANK, SQUAT)
TOLD = (
    ("Side plank", PLANK.dose),
    ("Squat", SQUAT.dose),
    ("Bridge", Dose(variation="two legs", amount=10)),
)


def said(**given: float | str) -> dict[str, Said]:
    """Answers by the short form of their question, a minute apart."""
    return {
        question: Said(word=value, at=AT + timedelta(minutes=minute))
        if isinstance(value, str)
        else Said(number=value, at=AT + timedelta(minutes=minute))
        for minute, (question, value) in enumerate(given.items())
    }


def walk(answers: Answers) -> list[str]:
    """The course as short forms."""
    return [str(question) for question in course(ASKED, answers)]


def test_the_whole_class_comes_first_then_each_movement_then_pain() -> None:
    assert walk({}) == ["c", "e0", "e1", "h"]


@pytest.mark.parametrize(
    ("answers", "expected"),
    [
        (said(c=ABSENT), ["c"]),
        (said(e0=UNFINISHED), ["c", "e0", "d0", "e1", "h"]),
        (said(e0=7.0), ["c", "e0", "r0", "e1", "h"]),
        (said(e0=4.0), ["c", "e0", "e1", "h"]),  # too easy to know what was left
        (said(e0=10.0), ["c", "e0", "e1", "h"]),  # nothing was left
        (said(e1=7.0), ["c", "e0", "e1", "h"]),  # not worth its tap there
        (said(v0=1.0), ["c", "v0", "n0", "e0", "e1", "h"]),
        (said(v1=0.0), ["c", "e0", "v1", "n1", "l1", "e1", "h"]),
        (said(h="pain"), ["c", "e0", "e1", "h", "w"]),
        (said(h="soreness"), ["c", "e0", "e1", "h"]),
    ],
)
def test_answers_decide_what_is_asked_besides(answers: Answers, expected: list[str]) -> None:
    assert walk(answers) == expected


def test_the_next_question_is_the_first_open_one_and_none_when_all_is_said() -> None:
    assert next_question(ASKED, {}) == SESSION
    assert next_question(ASKED, said(c=7.0, e1=6.0)) == Question(Topic.EFFORT, 0)
    everything = said(c=7.0, e0=SKIPPED, e1=6.0, h=FINE)
    assert next_question(ASKED, everything) is None


def test_one_can_go_back_from_every_question_but_the_first() -> None:
    answers = said(c=7.0, e0=7.0, r0=5.0, e1=6.0, h="pain", w=1.0)
    back = [previous_question(ASKED, answers, each) for each in course(ASKED, answers)]
    assert back == [None, *course(ASKED, answers)[:-1]]
    something_else = Question(Topic.VARIATION, 0)
    assert previous_question(ASKED, {}, something_else) == Question(Topic.EFFORT, 0)


@pytest.mark.parametrize("topic", list(Topic))
def test_a_question_is_read_as_it_was_written(topic: Topic) -> None:
    forms = [topic.value, f"{topic}0", f"{topic}2"]
    read = [question for form in forms if (question := Question.read(form)) is not None]
    assert read
    assert all(Question.read(str(question)) == question for question in read)
    assert Question.read(f"{topic}3") is None


def rated(answers: Answers) -> dict[str, tuple[float | None, float | None, float | None, float]]:
    """What came of each movement: effort, completed, reserve, and the amount of the dose."""
    found = bouts(ASKED, answers, told=TOLD, member="m", session="s", on=ON)
    return {b.movement: (b.effort, b.completed, b.reserve, b.dose.amount) for b in found}


def test_bouts_are_what_was_said_and_the_rest_is_what_was_told() -> None:
    answers = said(c=7.0, e0=8.0, r0=5.0, e1=SKIPPED, h=FINE)
    assert rated(answers) == {
        "Side plank": (8.0, None, 5.0, 30),
        "Squat": (None, None, None, 8),
        "Bridge": (None, None, None, 10),
    }


def test_stopping_short_is_kept_with_how_far_it_went_or_else_as_maximal() -> None:
    assert rated(said(c=7.0, e0=UNFINISHED, d0=20.0))["Side plank"] == (None, 20.0, None, 30)
    assert rated(said(c=7.0, e0=UNFINISHED, d0=SKIPPED))["Side plank"][0] == 10.0


def test_something_else_is_what_was_really_done() -> None:
    found = bouts(ASKED, said(v0=1.0, n0=15.0, e0=6.0), member="m", session="s", on=ON)
    assert found[0].dose == Dose(variation="feet stacked", amount=15, sets=2)


def test_who_was_not_there_did_nothing_and_who_said_nothing_is_unknown() -> None:
    assert rated(said(c=ABSENT, e0=7.0)) == {}
    assert rated({}) == {}
    rating = session_rating(said(c=ABSENT), member="m", session="s", on=ON, minutes=50)
    assert rating is not None
    assert (rating.attended, rating.effort) == (False, None)
    assert session_rating({}, member="m", session="s", on=ON, minutes=50) is None


def test_where_it_hurt_is_asked_only_after_pain() -> None:
    assert WHERE in course(ASKED, said(h="pain"))
    assert HURT in course(ASKED, {})
    assert WHERE not in course(ASKED, said(h="warning"))
