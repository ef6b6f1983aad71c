"""A start loads what it needs, in the order in which it needs it."""

import subprocess
import sys

import pytest

from tests.house.paths import ROOT

ALWAYS_LATE = {"matplotlib", "segno", "icalendar", "recurring_ical_events", "psycopg", "dotenv"}
"""Pictures are drawn by another process, and few have calendars, servers or a `.env` file."""
NOT_FIRST = {"numpy", "pydantic", "bot.chat", "bot.desk", "bot.schedule.turn", "bot.pictures"}
"""Of no use before there is somebody to answer."""


@pytest.mark.parametrize(
    ("opened", "not_loaded"),
    [("bot.house", ALWAYS_LATE | NOT_FIRST), ("bot.inside", ALWAYS_LATE)],
)
def test_what_is_not_needed_yet_is_not_loaded(opened: str, not_loaded: set[str]) -> None:
    look = f"import sys, bot.__main__, {opened}; print(*sys.modules)"
    found = subprocess.run(
        [sys.executable, "-c", look], cwd=ROOT, check=True, capture_output=True, text=True
    )
    assert opened in found.stdout.split()
    assert not_loaded & set(found.stdout.split()) == set()
