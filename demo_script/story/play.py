"""Plays it: opens the theatre on a temporary database, and goes from week to week."""

import logging
import tempfile
from collections.abc import AsyncGenerator, Generator
from contextlib import asynccontextmanager, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.planfile import PlanFile, read_plan_file
from demo_script.cast import INSTRUCTOR, STRANGER, make_cast
from demo_script.story.opening import PLAN_NAME, open_doors
from demo_script.story.tale import Script, Tale
from demo_script.story.week import play_week
from demo_script.story.witness import Witness
from demo_script.telling import Telling
from demo_script.theatre import open_theatre

PLAN = Path(__file__).parents[1] / PLAN_NAME
DAYS_BEFORE = 2  # the doors open that long before the first class


@asynccontextmanager
async def play(script: Script, telling: Telling) -> AsyncGenerator[Tale]:
    """The whole story; inside the block the bot still runs, so that it can be looked into."""
    text = PLAN.read_text(encoding="utf-8")
    plan = read_plan_file(text, PLAN_NAME)
    with tempfile.TemporaryDirectory(prefix="class-effort-demo-") as folder:
        async with open_theatre(Path(folder), _opening(plan)) as theatre:
            tale = Tale(
                script=script,
                theatre=theatre,
                telling=telling,
                plan=plan,
                plan_text=text,
                cast=make_cast(theatre.api, plan.plan, script.seed),
                instructor=theatre.api.person(INSTRUCTOR),
                stranger=theatre.api.person(STRANGER),
                witness=Witness(theatre.api),
            )
            with _listening(tale.problems):
                await open_doors(tale)
                for week in range(1, script.weeks + 1):
                    await play_week(tale, week)
                yield tale


def _opening(plan: PlanFile) -> datetime:
    """A morning before the first class."""
    first = plan.starts.replace(hour=10, minute=0, tzinfo=ZoneInfo(plan.timezone))
    return (first - timedelta(days=DAYS_BEFORE)).astimezone(UTC)


class _Listener(logging.Handler):
    """Writes down what is logged as an error."""

    def __init__(self, heard: list[str]) -> None:
        super().__init__(logging.ERROR)
        self._heard = heard

    def emit(self, record: logging.LogRecord) -> None:
        """Keep it as one line."""
        self._heard.append(f"{record.name}: {record.getMessage()}")


@contextmanager
def _listening(heard: list[str]) -> Generator[None]:
    listener = _Listener(heard)
    logging.getLogger().addHandler(listener)
    try:
        yield
    finally:
        logging.getLogger().removeHandler(listener)
