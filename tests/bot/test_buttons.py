"""Every kind of button is read as it was written and fits; nothing else is read."""

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import (
    KINDS,
    AnswerButton,
    Button,
    ClearButton,
    EstimateButton,
    JoinButton,
    LessonButton,
    ReplaceButton,
    SeenButton,
    ShowButton,
    VerdictButton,
    View,
    WellAgainButton,
    accepts,
    read_button,
)
from bot.storage.names import name_row
from core.questions import WORDS, Question, Topic
from core.verdict import Verdict

MOST_BYTES = 64  # Bot API: callback_data, 1 to 64 bytes
QUESTIONS = st.one_of(
    st.builds(
        Question,
        st.sampled_from([topic for topic in Topic if Question.read(f"{topic}0") is not None]),
        st.integers(0, 2),
    ),
    st.builds(
        Question, st.sampled_from([topic for topic in Topic if Question.read(topic) is not None])
    ),
)
IDS = st.text(alphabet="abcdefghijklmnopqrstuvwxyz234567", min_size=12, max_size=12)
NUMBERS = st.integers(0, 999_999).map(lambda hundredths: hundredths / 100)


@st.composite
def answers(draw: st.DrawFn) -> AnswerButton:
    """An answer that its question takes."""
    prompt, question = draw(IDS), draw(QUESTIONS)
    word = draw(st.sampled_from(WORDS[question.topic]))
    number = draw(NUMBERS.filter(lambda n: accepts(question, n)) if has_number(question) else NEVER)
    return AnswerButton(prompt, question, word=word if number is None else None, number=number)


NEVER = st.none()


def has_number(question: Question) -> bool:
    """Whether numbers answer this question; rare ones would be filtered away for ever."""
    return question.topic in (Topic.COMPLETED, Topic.RESERVE, Topic.LOAD, Topic.AMOUNT)


BUTTONS: st.SearchStrategy[Button] = st.one_of(
    answers(),
    st.builds(ShowButton, IDS, st.one_of(QUESTIONS, st.sampled_from(View))),
    st.builds(JoinButton, IDS, st.booleans()),
    st.builds(ReplaceButton, IDS, st.just(True), st.booleans()),
    st.builds(ReplaceButton, IDS, st.just(False)),
    st.builds(SeenButton, IDS),
    st.builds(ClearButton, IDS),
    st.builds(WellAgainButton, IDS),
    st.builds(
        VerdictButton, IDS, st.none() | st.sampled_from(Verdict), st.none() | st.integers(0, 99)
    ),
    st.builds(EstimateButton, IDS, st.integers(0, 99), st.none() | st.integers(0, 9)),
    st.builds(LessonButton, IDS, st.integers(0, 9), st.none() | st.integers(0, 100)),
)


@given(BUTTONS)
def test_a_button_is_read_as_it_was_written_and_fits(button: Button) -> None:
    data = button.write()
    assert read_button(data) == button
    assert 1 <= len(data.encode()) <= MOST_BYTES


@given(st.integers(0, 10))
def test_every_rating_of_the_scale_is_a_button(rating: int) -> None:
    for question in (Question(Topic.SESSION), Question(Topic.EFFORT, 0)):
        button = AnswerButton("a" * 12, question, number=float(rating))
        assert read_button(button.write()) == button


@pytest.mark.parametrize("rating", ["11", "-1", "10.5", "99", "1e1", "nan", "7,5", "٧"])
def test_no_button_carries_a_rating_beyond_the_scale(rating: str) -> None:
    assert read_button(f"a:{'a' * 12}:c:{rating}") is None


@given(st.text(max_size=MOST_BYTES))
def test_what_no_button_wrote_is_not_read(text: str) -> None:
    button = read_button(text)
    assert button is None or button.write() == text


def test_no_two_kinds_begin_with_the_same_letter() -> None:
    letters = [kind.kind for kind in KINDS]
    assert len(set(letters)) == len(letters) == len(get_args(Button))


@given(st.lists(st.text(), min_size=1, max_size=4))
def test_the_ids_that_rows_get_are_the_ids_that_buttons_take(reason: list[str]) -> None:
    assert read_button(SeenButton(name_row(*reason)).write()) is not None
