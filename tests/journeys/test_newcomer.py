"""What a newcomer reads in their first two weeks is what was read aloud and found good."""

from pathlib import Path

import pytest

from bot.words.speech import LANGUAGES
from tests.journeys.evening import Evening
from tests.journeys.newcomer import first_two_weeks

GOLDEN = Path(__file__).parent / "golden"


@pytest.mark.parametrize(
    "language",
    [pytest.param(each, marks=pytest.mark.long if each == "es" else ()) for each in LANGUAGES],
)
async def test_the_first_two_weeks_read_as_they_are_kept(stage: Evening, language: str) -> None:
    """If the change is wanted: `python -m tests.journeys.golden`, and read the difference."""
    kept = (GOLDEN / f"newcomer.{language}.txt").read_text(encoding="utf-8")
    assert await first_two_weeks(stage, language) == kept


def test_no_code_and_no_english_sentence_is_kept_where_it_does_not_belong() -> None:
    for path in GOLDEN.glob("newcomer.*.txt"):
        text = path.read_text(encoding="utf-8")
        assert "/start ●●●" in text
        assert "start=" not in text.replace("start=●●●", "")
        english = ("How hard", "Thank you", "next class", "Only a suggestion")
        assert any(each in text for each in english) == (".en." in path.name)
