"""The scale is explained and practised, and one's own ratings are looked at kindly."""

from datetime import date, timedelta
from itertools import pairwise

import pytest

from bot.buttons import LessonButton
from bot.planfile import read_plan_file
from core.lesson import scenes
from demo_script.stand_in import Person
from tests.journeys.evening import PROMPTED, WEEK, Evening, buttons, data_of
from tests.journeys.plans import plan_text

CLASSES = 10


@pytest.fixture
def ana(evening: Evening) -> Person:
    """A member of the group."""
    return evening.members["Ana"]


def lesson(person: Person) -> list[LessonButton]:
    """The lesson's buttons under the last message."""
    return [each for each in buttons(person.last_message) if isinstance(each, LessonButton)]


async def test_a_stranger_learns_nothing(evening: Evening) -> None:
    stranger = evening.api.person("Zeno")
    stranger.press_start()
    await evening.settle()
    assert lesson(stranger) == []
    await evening.say(stranger, "/scale")
    assert buttons(stranger.last_message) == []


async def test_four_taps_lead_through_the_lesson_and_back_and_store_nothing(
    evening: Evening, ana: Person
) -> None:
    await evening.say(ana, "/scale")
    before = evening.dump()
    first = ana.last_message.message_id
    await evening.press(ana, data_of(ana.last_message, LessonButton))
    for place in range(4):
        rated = [each for each in lesson(ana) if each.tenths is not None]
        assert [each.tenths for each in rated] == [10 * rating for rating in range(11)]
        assert {each.place for each in rated} == {place}
        await evening.press(ana, rated[7].write())
        (onwards,) = lesson(ana)
        await evening.press(ana, onwards.write())
    assert ana.last_message.message_id == first
    assert evening.dump() == before


async def test_the_scenes_are_made_of_the_movements_of_the_plan(
    evening: Evening, ana: Person
) -> None:
    await evening.say(ana, "/scale")
    await evening.press(ana, data_of(ana.last_message, LessonButton))
    assert "Side plank" in ana.last_message.text


@pytest.mark.long
async def test_ratings_that_disagree_with_what_was_left_are_mentioned_once_a_month(
    evening: Evening, ana: Person
) -> None:
    """Rating 9 with five left, class after class: a kind word, and the next a month later."""
    for week in range(CLASSES):
        await evening.leap(PROMPTED + week * WEEK)
        await evening.answer_all(ana, c=7, e=9, r=5)
    said = [
        date.fromisoformat(str(letter).rpartition("/")[2])
        for (letter,) in evening.rows(
            "SELECT id FROM outbox WHERE id LIKE 'refresher/%' ORDER BY queued_at"
        )
    ]
    assert said
    assert all(later - earlier >= timedelta(days=30) for earlier, later in pairwise(said))


async def test_the_scenes_cover_the_scale_from_easy_to_nothing_left(evening: Evening) -> None:
    """30 s of 50 possible: Shepherd et al. 2013; three left: Zourdos et al. 2016."""
    plan = read_plan_file(plan_text(), "plan").plan
    assert [scene.rating for scene in scenes(plan)] == [2.0, 6.0, 7.0, 10.0]
