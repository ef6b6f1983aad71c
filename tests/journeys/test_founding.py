"""What an instructor reads in the first hour is what was read aloud and found good."""

from pathlib import Path

from tests.journeys.evening import Evening
from tests.journeys.founding import first_hour

GOLDEN = Path(__file__).parent / "golden" / "founding.en.txt"


async def test_the_first_hour_reads_as_it_is_kept(stage: Evening) -> None:
    """If the change is wanted: `python -m tests.journeys.golden`, and read the difference."""
    assert await first_hour(stage) == GOLDEN.read_text(encoding="utf-8")


def test_no_code_is_kept() -> None:
    text = GOLDEN.read_text(encoding="utf-8")
    assert "/start ●●●" in text
    assert "start=" not in text.replace("start=●●●", "")
