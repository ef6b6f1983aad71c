"""Plays it: opens the theatre on a temporary database, and goes from week to week."""

import tempfile
from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.planfile import PlanFile, read_plan_file
from demo_script.cast import INSTRUCTOR, STRANGER, make_cast
from demo_script.story.listening import listening
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
            with listening(tale.problems):
                await open_doors(tale)
                for week in range(1, script.weeks + 1):
                    await play_week(tale, week)
                yield tale


def _opening(plan: PlanFile) -> datetime:
    """A morning before the first class."""
    first = plan.starts.replace(hour=10, minute=0, tzinfo=ZoneInfo(plan.timezone))
    return (first - timedelta(days=DAYS_BEFORE)).astimezone(UTC)
