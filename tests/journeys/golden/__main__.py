"""Writes the transcripts anew: `python -m tests.journeys.golden`; then read them aloud."""

import asyncio
from pathlib import Path
from tempfile import TemporaryDirectory

from bot.words.speech import LANGUAGES
from tests.journeys.conftest import open_stage
from tests.journeys.newcomer import first_two_weeks

FOLDER = Path(__file__).parent


async def write(language: str) -> None:
    """Play the story in one language, and keep what was said."""
    with TemporaryDirectory() as folder:
        async with open_stage(Path(folder)) as evening:
            told = await first_two_weeks(evening, language)
    (FOLDER / f"newcomer.{language}.txt").write_text(told, encoding="utf-8")
    print(f"{language}: {len(told.splitlines())} lines")


async def main() -> None:
    """All languages."""
    for language in LANGUAGES:
        await write(language)


if __name__ == "__main__":
    asyncio.run(main())
