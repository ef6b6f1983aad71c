"""The busy day comes true; and each of its findings would tell if it hadn't."""

import asyncio
import io
from dataclasses import dataclass
from pathlib import Path

import pytest

from demo_script.busy_day import Day, DayScript, play_day
from demo_script.busy_day.findings import LOOKS
from demo_script.busy_day.play import ZONE
from demo_script.story.finding import Finding
from demo_script.telling import Telling
from tests.demo_script.spoiled_days import SPOILED, Spoiled, as_it_was

pytestmark = pytest.mark.long
SEED = 11


@dataclass(frozen=True)
class Told:
    """What is left of the day once the bot is closed."""

    day: Day
    text: str
    found: dict[str, Finding]
    false: dict[str, set[str]]
    """Which findings were false once the day was spoiled, by how it was."""


@pytest.fixture(scope="module")
def told() -> Told:
    """The day, played once for all tests here, with other people than the demo's."""
    return asyncio.run(_tell())


async def _tell() -> Told:
    out = io.StringIO()
    async with play_day(DayScript(seed=SEED), Telling(out=out, zone=ZONE)) as day:
        found = {name: await look(day) for name, look in LOOKS.items()}
        false = {each.how: await _false(day, each) for each in SPOILED}
        return Told(day, out.getvalue(), found, false)


async def _false(day: Day, spoiled: Spoiled) -> set[str]:
    async with as_it_was(day):
        await spoiled.spoil(day)
        return {name for name, look in LOOKS.items() if not (await look(day)).holds}


def test_everything_comes_true(told: Told) -> None:
    """Each finding holds, and says by what it is seen."""
    assert {name: each.evidence for name, each in told.found.items() if not each.holds} == {}
    assert all(each.evidence for each in told.found.values())


@pytest.mark.parametrize("spoiled", SPOILED, ids=lambda each: each.how)
def test_what_went_wrong_is_noticed(told: Told, spoiled: Spoiled) -> None:
    """By the finding that is about it, and by no other."""
    assert told.false[spoiled.how] == set(spoiled.noticed_by)


def test_every_finding_can_be_false() -> None:
    """Some spoiled day makes each of them so."""
    assert {name for each in SPOILED for name in each.noticed_by} == set(LOOKS)


def test_the_sizes_of_pictures_and_files_are_told(told: Told) -> None:
    """Of the pictures after the digests, and of the three exported files."""
    assert told.text.count(" pixels, ") >= 3
    assert "(plan.toml, " in told.text


def test_no_line_is_wider_than_the_terminal(told: Told) -> None:
    """Also with two names where the six weeks have one."""
    wide = [line for line in told.text.splitlines() if len(line) > told.day.telling.width]
    assert wide == []
    assert "\x1b" not in told.text


def test_nothing_of_the_day_stays_on_the_disk(told: Told) -> None:
    """Its database lay in a folder that is gone."""
    place = told.day.theatre.house.place
    assert isinstance(place, Path)
    assert not place.exists()
