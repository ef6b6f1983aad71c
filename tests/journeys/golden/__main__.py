"""Writes the transcripts anew: `python -m tests.journeys.golden`; then read them aloud."""

import asyncio
import sys
from collections.abc import Awaitable, Callable, Iterator
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from bot.words.speech import LANGUAGES
from tests.journeys.conftest import open_stage
from tests.journeys.evening import Evening
from tests.journeys.founding import first_hour
from tests.journeys.leading_week import ordinary_week
from tests.journeys.newcomer import first_two_weeks

FOLDER = Path(__file__).parent
Story = Callable[[Evening], Awaitable[str]]


def stories() -> Iterator[tuple[str, Story]]:
    """Every story by the name of its file."""
    for language in LANGUAGES:
        yield f"newcomer.{language}", partial(first_two_weeks, language=language)
        yield f"leading.{language}", partial(ordinary_week, language=language)
    yield "founding.en", first_hour


async def write(name: str, story: Story) -> None:
    """Play one story, and keep what was said."""
    with TemporaryDirectory() as folder:
        async with open_stage(Path(folder)) as evening:
            told = await story(evening)
    (FOLDER / f"{name}.txt").write_text(told, encoding="utf-8")
    print(f"{name}: {len(told.splitlines())} lines")


async def main() -> None:
    """All stories, or those with one of the given words in their name."""
    for name, story in stories():
        if sys.argv[1:] and not any(word in name for word in sys.argv[1:]):
            continue
        await write(name, story)


if __name__ == "__main__":
    asyncio.run(main())
