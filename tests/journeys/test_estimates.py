"""Newcomers may say where they stand; a guess is a start and nothing more."""

import pytest

from bot.buttons import EstimateButton
from demo_script.stand_in import Person
from tests.journeys.evening import Evening, buttons, data_of


@pytest.fixture
def ana(evening: Evening) -> Person:
    """A member who has just joined."""
    return evening.members["Ana"]


def offers(person: Person) -> list[EstimateButton]:
    """What can be tapped as an answer."""
    found = [each for each in buttons(person.last_message) if isinstance(each, EstimateButton)]
    return [each for each in found if each.offer is not None]


async def start(evening: Evening, person: Person) -> None:
    """Tap the button under the welcome."""
    await evening.press(person, data_of(person.last_message, EstimateButton))


async def test_every_movement_is_asked_about_and_every_one_may_be_skipped(
    evening: Evening, ana: Person
) -> None:
    await start(evening, ana)
    welcome = ana.last_message.message_id
    for place in range(3):
        assert {each.place for each in offers(ana)} == {place}
        group = offers(ana)[0].group
        await evening.press(ana, EstimateButton(group, place + 1).write())
    assert offers(ana) == []
    assert ana.last_message.message_id == welcome
    assert evening.rows("SELECT count(*) FROM estimate") == [(0,)]


async def test_what_is_tapped_is_kept_and_the_next_question_follows(
    evening: Evening, ana: Person
) -> None:
    await start(evening, ana)
    for _ in range(3):
        await evening.press(ana, offers(ana)[2].write())
    kept = evening.rows("SELECT movement, load IS NOT NULL FROM estimate ORDER BY movement")
    assert kept == [("Push-up", 0), ("Side plank", 0), ("Squat with a weight", 1)]


async def test_a_guess_changes_what_the_first_class_is(evening: Evening, ana: Person) -> None:
    before = (await evening.say(ana, "/variant")).text
    await evening.press(ana, data_of(ana.last_message, EstimateButton))
    for _ in range(3):
        await evening.press(ana, offers(ana)[-1].write())
    assert (await evening.say(ana, "/variant")).text != before


async def test_saying_it_again_replaces_the_guess(evening: Evening, ana: Person) -> None:
    await start(evening, ana)
    first = offers(ana)
    await evening.press(ana, first[0].write())
    await evening.press(ana, EstimateButton(first[0].group, 0).write())  # back
    await evening.press(ana, offers(ana)[3].write())
    (kept,) = evening.rows("SELECT amount FROM estimate WHERE movement = 'Side plank'")
    assert kept != (5.0,)


async def test_nobody_else_can_answer_for_a_group_they_are_not_in(
    evening: Evening, ana: Person
) -> None:
    group = data_of(ana.last_message, EstimateButton).split(":")[1]
    stranger = evening.api.person("Zeno")
    stranger.press_start()
    await evening.settle()
    stranger.press_raw(stranger.last_message.message_id, f"n:{group}:0:1")
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM estimate") == [(0,)]
