"""Buttons of what people do about themselves: read as they were written, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.buttons import AnswerButton, Button, read_button
from bot.buttons.personal import DataButton, HurtButton, PauseButton, Setting, SettingButton
from core.effort import to_6_20
from core.questions import Question
from core.reports import SymptomKind

IDS = st.text("abcdefghijklmnopqrstuvwxyz234567", min_size=12, max_size=12)
ID = "abcdefgh2345"
HURT = st.one_of(
    st.builds(HurtButton, IDS),
    st.builds(HurtButton, IDS, st.sampled_from(SymptomKind)),
    st.builds(HurtButton, IDS, st.sampled_from(SymptomKind), IDS),
    st.builds(HurtButton, IDS, st.sampled_from(SymptomKind), IDS, st.one_of(IDS, st.just("-"))),
)
PAUSE = st.builds(PauseButton, IDS, st.sampled_from(("7", "14", "28", "open", "end", "no")))
DATA = st.builds(DataButton, IDS, st.sampled_from(("export", "erase", "yes", "no")))
SETTING = st.one_of(
    st.builds(SettingButton, IDS, st.one_of(st.none(), st.sampled_from(Setting))),
    st.builds(SettingButton, IDS, st.just(Setting.SCALE), st.sampled_from(("0-10", "6-20"))),
    st.builds(SettingButton, IDS, st.just(Setting.LANGUAGE), st.sampled_from(("auto", "de"))),
    st.builds(SettingButton, IDS, st.just(Setting.QUIET_FROM), st.integers(0, 1439).map(str)),
)


@given(st.one_of(HURT, PAUSE, DATA, SETTING))
def test_what_is_written_is_read_back_and_fits(button: Button) -> None:
    data = button.write()
    assert len(data.encode()) <= 64
    assert read_button(data) == button


@pytest.mark.parametrize(
    "data",
    [
        "h:abcdefgh2345:x",
        "h:abcdefgh2345:p:short",
        "h:abcdefgh2345:p:abcdefgh2345:--",
        "z:abcdefgh2345:8",
        "z:abcdefgh2345",
        "d:abcdefgh2345:everything",
        "e:abcdefgh2345:name",
        "e:abcdefgh2345:scale:7-21",
        "e:abcdefgh2345:language:deu",
        "e:abcdefgh2345:from:١٢",
        "e:ABCDEFGH2345",
        "a:abcdefgh2345:c:b5",
        "a:abcdefgh2345:c:b21",
        "a:abcdefgh2345:r0:b12",
        "a:abcdefgh2345:h:b12",
    ],
)
def test_anything_else_is_no_button(data: str) -> None:
    assert read_button(data) is None


@pytest.mark.parametrize("rating", range(6, 21))
def test_a_rating_from_6_to_20_is_marked_and_carries_both_numbers(rating: int) -> None:
    question = Question.read("e1")
    assert question is not None
    button = AnswerButton.twenty(ID, question, rating)
    assert read_button(button.write()) == button
    assert button.on_6_20 == rating
    assert to_6_20(button.number or 0.0) == pytest.approx(rating)
    assert button.write() != AnswerButton(ID, question, number=float(min(rating, 10))).write()
