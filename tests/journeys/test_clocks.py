"""The computer sleeps for two days, or its clock is set: nothing is lost."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from bot.storage.floods import Allowance
from demo_script.theatre import DEMO_PACE
from tests.journeys.conftest import open_stage
from tests.journeys.evening import PROMPTED, STARTS, WEEK, Evening, asked, sent_to

HOURS = timedelta(hours=5)


def prompts(evening: Evening) -> list[tuple[object, ...]]:
    return evening.rows("SELECT session_id, person_id FROM prompt")


async def test_what_is_still_of_use_after_the_sleep_is_made_up_for_and_the_rest_is_dropped(
    evening: Evening,
) -> None:
    await evening.leap(STARTS - timedelta(hours=6))
    await evening.leap(STARTS + timedelta(days=2))
    assert len(prompts(evening)) == 3, "how hard it was, one still knows"
    ended = evening.rows("SELECT kind, dropped_at IS NOT NULL FROM due WHERE at < ?", now(evening))
    assert ("digest", 1) in ended, "for that class there is nothing to prepare any more"
    await evening.class_is_over(week=1)
    assert len(prompts(evening)) == 6


def now(evening: Evening) -> str:
    return f"{evening.now:%Y-%m-%dT%H:%M:%SZ}"


async def test_questions_that_were_open_before_the_sleep_can_be_answered_after_it(
    evening: Evening,
) -> None:
    await evening.class_is_over()
    await evening.leap(PROMPTED + timedelta(days=2))
    ana = evening.members["Ana"]
    await evening.answer(ana, str(asked(ana.last_message)), 7)
    assert 7.0 in evening.answers(ana).values()


async def test_a_clock_that_is_set_back_by_hours_silences_nobody(
    evening: Evening, caplog: pytest.LogCaptureFixture
) -> None:
    await evening.class_is_over()
    evening.theatre.clock.moment -= HOURS
    await evening.theatre.house.turn()
    assert [each.message for each in caplog.records if each.levelname == "WARNING"] == [
        "the clock was set back"
    ]
    for name, member in evening.members.items():
        await evening.say(member, "7")
        assert list(evening.answers(member).values())[:1] == [7.0], name
    assert len(prompts(evening)) == 3
    await evening.leap(PROMPTED)
    assert len(prompts(evening)) == 3, "nobody is asked twice about the same class"
    await evening.class_is_over(week=1)
    assert len(prompts(evening)) == 6


async def test_a_clock_that_runs_ahead_for_a_while_asks_nobody_twice(evening: Evening) -> None:
    await evening.leap(PROMPTED - HOURS)
    await evening.leap(PROMPTED)
    evening.theatre.clock.moment -= HOURS
    for hours in range(6):
        await evening.leap(PROMPTED - HOURS + timedelta(hours=hours))
    assert len(prompts(evening)) == 3
    await evening.class_is_over(week=1)
    assert len(prompts(evening)) == 6


async def test_a_whole_prompt_in_taps_never_meets_the_limit_and_a_flood_is_told_once(
    tmp_path: Path,
) -> None:
    """In the allowance that counts for real, and with a clock that stands still meanwhile."""
    async with open_stage(tmp_path, pace=replace(DEMO_PACE, allowance=Allowance())) as evening:
        await evening.found()
        (ana,) = await evening.join("Ana")
        for week in range(2):
            await evening.class_is_over(week)
            await evening.answer_all(ana)
        assert evening.rows("SELECT 1 FROM inbox WHERE problem IS NOT NULL") == []
        await evening.leap(evening.now + WEEK / 2)
        place = len(evening.api.log)
        for _ in range(100):
            ana.say("/cancel")
        await evening.settle()
        told = [text for text in sent_to(evening.api, ana, place) if "a lot at once" in text]
        assert len(told) == 1
        assert len(evening.rows("SELECT 1 FROM inbox WHERE problem = 'too much'")) == 40
        await evening.leap(evening.now + timedelta(minutes=5))
        assert "a lot at once" not in (await evening.say(ana, "/help")).text
