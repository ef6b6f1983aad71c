"""What an instructor reads in an ordinary week is what was read aloud and found good."""

from pathlib import Path

import pytest

from bot.words.speech import LANGUAGES
from tests.journeys.evening import Evening
from tests.journeys.leading_week import ordinary_week

GOLDEN = Path(__file__).parent / "golden"


@pytest.mark.parametrize(
    "language",
    [pytest.param(each, marks=pytest.mark.long if each == "es" else ()) for each in LANGUAGES],
)
async def test_the_week_reads_as_it_is_kept(stage: Evening, language: str) -> None:
    """If the change is wanted: `python -m tests.journeys.golden`, and read the difference."""
    kept = (GOLDEN / f"leading.{language}.txt").read_text(encoding="utf-8")
    assert await ordinary_week(stage, language) == kept
