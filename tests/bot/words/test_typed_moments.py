"""A day and a time are read as people write them, in each language."""

from datetime import date, datetime, time

import pytest

from bot.words.class_changes import example
from bot.words.speech import LANGUAGES, speech_for
from bot.words.typed_moments import Usual, read_when

NOW = datetime(2026, 9, 2, 12, 0)  # noqa: DTZ001  a Wednesday, on the wall
USUAL = Usual(now=NOW, day=date(2026, 9, 3), clock=time(18, 30))


@pytest.mark.parametrize(
    ("language", "text", "meant"),
    [
        ("en", "4/9 18:00", "2026-09-04 18:00"),
        ("en", "4 Sept at 6 pm", "2026-09-04 18:00"),
        ("en", "2026-09-04 18:00", "2026-09-04 18:00"),
        ("en", "Fri 18:00", "2026-09-04 18:00"),
        ("en", "18:00 on Friday", "2026-09-04 18:00"),
        ("en", "Wed 11:00", "2026-09-09 11:00"),
        ("en", "Wed 13:00", "2026-09-02 13:00"),
        ("en", "tomorrow 9:15", "2026-09-03 09:15"),
        ("en", "today, 20:00", "2026-09-02 20:00"),
        ("en", "19:00", "2026-09-03 19:00"),
        ("en", "7 pm", "2026-09-03 19:00"),
        ("en", "Friday", "2026-09-04 18:30"),
        ("en", "12/9", "2026-09-12 18:30"),
        ("de", "Freitag um 18 Uhr", "2026-09-04 18:00"),
        ("de", "am Fr 18.15 Uhr", "2026-09-04 18:15"),
        ("de", "4.9. 18:00", "2026-09-04 18:00"),
        ("de", "4. September 18:00", "2026-09-04 18:00"),
        ("de", "morgen 19 Uhr", "2026-09-03 19:00"),
        ("es", "viernes a las 18:00", "2026-09-04 18:00"),
        ("es", "4 de septiembre 18:00", "2026-09-04 18:00"),
        ("es", "mañana 18h", "2026-09-03 18:00"),
    ],
)
def test_it_is_read_as_it_is_meant(language: str, text: str, meant: str) -> None:
    assert read_when(speech_for(language), text, USUAL) == datetime.fromisoformat(meant)


@pytest.mark.parametrize(
    "text",
    ["", "soon", "25:00", "32/9 18:00", "Mon-Fri 18:00", "18:00 19:00", "x" * 500, "1 " * 50],
)
def test_what_is_no_moment_is_not_guessed_at(text: str) -> None:
    assert read_when(speech_for("en"), text, USUAL) is None


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_example_that_people_are_shown_can_be_written(language: str) -> None:
    speech, like = speech_for(language), datetime(2026, 11, 12, 9, 5)  # noqa: DTZ001
    assert read_when(speech, example(speech, like), USUAL) == like
