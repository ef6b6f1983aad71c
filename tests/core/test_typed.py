"""One answer or several can be typed in one message; what isn't understood is all refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.effort import read_rating
from core.typed import Typed, split_answers

NAMES = ("Side plank", "Wall sit", "Push-up")


@pytest.mark.parametrize("text", ["7", "7.5", "7,5", "7/10", "70 %", " 7 "])
def test_one_rating_is_one_answer_however_it_is_written(text: str) -> None:
    assert split_answers(text, NAMES) == (Typed(None, text.strip()),)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("8, side plank 9", ((None, "8"), (0, "9"))),
        ("8; Wall sit: 7,5", ((None, "8"), (1, "7,5"))),
        ("plank 9\nsit = 70 %", ((0, "9"), (1, "70 %"))),
        ("push up 8/10", ((2, "8/10"),)),
        ("7,5, push-up 8", ((None, "7,5"), (2, "8"))),
    ],
)
def test_several_answers_name_their_movements(
    text: str, parts: tuple[tuple[int | None, str], ...]
) -> None:
    assert split_answers(text, NAMES) == tuple(Typed(*part) for part in parts)


@pytest.mark.parametrize("text", ["", "hello", "8, squat 9", "8, side plank", "; ,"])
def test_what_names_nothing_known_is_refused_as_a_whole(text: str) -> None:
    assert split_answers(text, NAMES) is None


@given(st.lists(st.tuples(st.sampled_from(range(3)), st.integers(0, 10)), min_size=1, max_size=3))
def test_what_is_written_with_full_names_is_read_back(answers: list[tuple[int, int]]) -> None:
    text = ", ".join(f"{NAMES[place]} {rating}" for place, rating in answers)
    found = split_answers(text, NAMES)
    assert found is not None
    assert [(each.place, read_rating(each.value)) for each in found] == answers


@given(st.text(max_size=200))
def test_no_text_breaks_it(text: str) -> None:
    found = split_answers(text, NAMES)
    assert found is None or all(each.place in (None, 0, 1, 2) for each in found)
