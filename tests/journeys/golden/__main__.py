"""Writes the transcripts anew: `python -m tests.journeys.golden`; then read them aloud."""

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from bot.words.speech import LANGUAGES
from tests.journeys.conftest import open_stage
from tests.journeys.evening import Evening
from tests.journeys.founding import first_hour
from tests.journeys.newcomer import first_two_weeks

FOLDER = Path(__file__).parent
Story = Callable[[Evening], Awaitable[str]]


def stories() -> Iterator[tuple[str, Story]]:
    """Every story by the name of its file."""
    for language in LANGUAGES:
        yield f"newcomer.{language}", partial(first_two_weeks, language=language)
    yield "founding.en", first_hour


async def write(name: str, story: Story) -> None:
    """Play one story, and keep what was said."""
    with TemporaryDirectory() as folder:
        async with open_stage(Path(folder)) as evening:
            told = await story(evening)
    (FOLDER / f"{name}.txt").write_text(told, encoding="utf-8")
    print(f"{name}: {len(told.splitlines())} lines")


async def main() -> None:
    """All stories."""
    for name, story in stories():
        await write(name, story)


if __name__ == "__main__":
    asyncio.run(main())
