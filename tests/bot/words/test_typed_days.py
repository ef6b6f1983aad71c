"""Days are read as people write them in their language."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.words.speech import LANGUAGES, speech_for
from bot.words.typed_days import read_day

TODAY = date(2026, 9, 3)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026-12-24", date(2026, 12, 24)),
        (" 24/12/2026 ", date(2026, 12, 24)),
        ("24.12.26", date(2026, 12, 24)),
        ("24.12.", date(2026, 12, 24)),
        ("24 / 12", date(2026, 12, 24)),
        ("3/9", TODAY),
        ("2/9", date(2027, 9, 2)),
        ("24 December", date(2026, 12, 24)),
        ("24 dec 2027", date(2027, 12, 24)),
        ("Dec 24th, 2027", date(2027, 12, 24)),
        ("24th Dec.", date(2026, 12, 24)),
    ],
)
def test_a_day_is_read_with_or_without_its_year(typed: str, day: date) -> None:
    assert read_day(speech_for("en"), typed, TODAY) == day


@pytest.mark.parametrize(
    "typed",
    ["", "7", "24", "31/2", "2026-13-01", "12/24/2026", "soon", "24 Ju", "24 J 2026", "0/0"],
)
def test_anything_else_is_no_day(typed: str) -> None:
    assert read_day(speech_for("en"), typed, TODAY) is None


@given(st.sampled_from(sorted(LANGUAGES)), st.integers(0, 365))
def test_what_the_bot_writes_as_an_example_it_reads(language: str, days: int) -> None:
    speech, day = speech_for(language), TODAY + timedelta(days=days)
    assert read_day(speech, speech.short_day(day), TODAY) == day
    assert read_day(speech, day.isoformat(), TODAY) == day


@given(st.text(max_size=20))
def test_nothing_that_is_typed_breaks_the_reading(typed: str) -> None:
    read_day(speech_for("en"), typed, TODAY)
