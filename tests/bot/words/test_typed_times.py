"""Days, times and lengths are understood as people write them, or not at all."""

from datetime import time

import pytest

from bot.words.speech import speech_for
from bot.words.typed_times import read_clock, read_minutes, read_weekdays


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("18:15", time(18, 15)),
        ("18.15 Uhr", time(18, 15)),
        ("18h15", time(18, 15)),
        ("1815", time(18, 15)),
        ("18 h", time(18)),
        ("7", time(7)),
        (" 6:15 PM ", time(18, 15)),
        ("6:15 p.m.", time(18, 15)),
        ("12 am", time(0)),
        ("12:30 pm", time(12, 30)),
        ("0:00", time(0)),
        ("24:00", None),
        ("25", None),
        ("18:60", None),
        ("13 pm", None),
        ("half past six", None),
        ("", None),
        ("١٨:١٥", None),
        ("18:15:00", None),
    ],
)
def test_a_time_of_day(text: str, clock: time | None) -> None:
    assert read_clock(text) == clock


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("50", 50),
        ("50 min", 50),
        ("90 Minuten", 90),
        ("1 h", 60),
        ("1h30", 90),
        ("1 hour 15 minutes", 75),
        ("2 Stunden", 120),
        ("an hour", None),
        ("-5", None),
        ("", None),
    ],
)
def test_a_length(text: str, minutes: int | None) -> None:
    assert read_minutes(text) == minutes


@pytest.mark.parametrize(
    ("language", "text", "days"),
    [
        ("en", "Mon, Thu", (0, 3)),
        ("en", "tuesdays and Thursdays", (1, 3)),
        ("en", "Mon-Fri", (0, 1, 2, 3, 4)),
        ("en", "Sat – Mon", (0, 5, 6)),
        ("de", "Di und Do", (1, 3)),
        ("de", "Mo. + Mi.", (0, 2)),
        ("de", "Mon, Thu", (0, 3)),
        ("es", "martes y jueves", (1, 3)),
        ("es", "miercoles", (2,)),
        ("en", "T", None),
        ("en", "Mon, Feb 30", None),
        ("en", "Mon-Wed-Fri", None),
        ("en", "", None),
    ],
)
def test_days_of_the_week(language: str, text: str, days: tuple[int, ...] | None) -> None:
    assert read_weekdays(speech_for(language), text) == days
