"""People who can't be written to, and lines that break."""

from datetime import timedelta
from pathlib import Path

from bot.house import Pace
from demo_script.stand_in import Person
from demo_script.stand_in.faults import cut_before, times
from tests.journeys.conftest import open_stage
from tests.journeys.evening import PROMPTED, Evening, answer_data, asked, sent_to

LOST = "I can't reach"
AGAIN = "I was out of reach for a while"
REAL_OUTAGES = Pace(poll_seconds=50, turn_every=timedelta(hours=1))


def told_lost(evening: Evening) -> int:
    """How often the instructor was told that somebody is out of reach."""
    return sum(LOST in text for text in sent_to(evening.api, evening.instructor))


async def test_who_blocks_the_bot_is_left_alone_and_the_instructor_told_once(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    ana.block()
    await evening.settle()
    assert told_lost(evening) == 1
    assert "Ana" in evening.instructor.last_message.text
    before = len(ana.messages)
    await evening.class_is_over()
    await evening.leap(PROMPTED + timedelta(hours=14))
    assert len(ana.messages) == before
    assert told_lost(evening) == 1
    refused = [request for request in evening.api.requests if request.status == 403]
    assert refused == []


async def test_whose_account_is_gone_is_noticed_by_the_first_refusal_only(
    evening: Evening,
) -> None:
    evening.members["Ana"].deactivate()
    await evening.class_is_over()
    await evening.leap(PROMPTED + timedelta(hours=14))
    assert told_lost(evening) == 1
    assert sum(request.status == 403 for request in evening.api.requests) == 1


async def test_the_next_message_opens_the_way_again(evening: Evening) -> None:
    ana = evening.members["Ana"]
    ana.block()
    await evening.settle()
    ana.press_start()
    await evening.settle()
    assert "Hello again" in ana.last_message.text
    await evening.class_is_over()
    assert asked(ana.last_message) is not None
    ana.block()
    await evening.settle()
    assert told_lost(evening) == 2


async def test_a_block_in_the_middle_of_a_fan_out_stops_nobody_else(evening: Evening) -> None:
    others = await evening.join(*(f"Member {number}" for number in range(30)))
    evening.theatre.clock.push_to(PROMPTED)
    await evening.theatre.house.turn()
    last = others[-1]
    await evening.api.until(lambda: asked(evening.members["Ana"].last_message) is not None)
    last.block()
    await evening.settle()
    assert all(asked(each.last_message) is not None for each in others[:-1])
    assert told_lost(evening) == 1


async def test_throwing_the_bot_out_of_a_group_chat_blocks_nobody(evening: Evening) -> None:
    ana = evening.members["Ana"]
    chat = evening.api.group("Our class", [ana])
    await evening.settle()
    chat.remove_bot()
    await evening.settle()
    assert evening.rows("SELECT * FROM unreachable WHERE chat > 0") == []
    assert told_lost(evening) == 0
    await evening.class_is_over()
    assert asked(ana.last_message) is not None


async def outage(evening: Evening, length: timedelta) -> None:
    """Nobody is heard for so long; then somebody is."""
    async with evening.api.outage():
        evening.theatre.clock.push(length.total_seconds())
    await evening.say(evening.instructor, "/help")


def shown_again(evening: Evening, person: Person) -> int:
    """How often somebody was asked again."""
    return sum(AGAIN in text for text in sent_to(evening.api, person))


async def test_after_an_outage_every_open_question_is_shown_once_more(tmp_path: Path) -> None:
    async with open_stage(tmp_path, PROMPTED - timedelta(hours=2), REAL_OUTAGES) as stage:
        await stage.found()
        ana, ben = await stage.join("Ana", "Ben")
        await stage.class_is_over()
        await stage.answer_all(ben)
        await stage.answer(ana, "c", 7)
        assert shown_again(stage, ana) == 0, "the leap was no outage for a question asked after it"
        await outage(stage, timedelta(minutes=5))
        assert (shown_again(stage, ana), shown_again(stage, ben)) == (1, 0)
        question = asked(ana.last_message)
        assert str(question) == "e0"
        await outage(stage, timedelta(minutes=5))
        assert shown_again(stage, ana) == 1
        await stage.answer(ana, "e0", 6)
        assert stage.answers(ana)["e0"] == 6.0


async def test_at_night_an_outage_wakes_nobody(tmp_path: Path) -> None:
    async with open_stage(tmp_path, PROMPTED - timedelta(hours=2), REAL_OUTAGES) as stage:
        await stage.found()
        (ana,) = await stage.join("Ana")
        await stage.class_is_over()
        await outage(stage, timedelta(hours=5))
        assert shown_again(stage, ana) == 0


async def test_an_answer_given_while_the_bot_was_away_counts(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    prompt = ana.last_message
    async with evening.api.outage():
        ana.press(prompt, answer_data(prompt, "c", 8))
        evening.theatre.clock.push(60)
    for _ in range(4):
        evening.theatre.clock.push(10)
        await evening.settle()
    assert evening.answers(ana) == {"c": 8.0}


async def test_a_toast_that_does_not_get_through_costs_no_answer(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    evening.api.faults.append(times(1, "answerCallbackQuery", cut_before()))
    prompt = ana.last_message
    ana.press(prompt, answer_data(prompt, "c", 8))
    await evening.settle()
    assert evening.answers(ana) == {"c": 8.0}
    assert str(asked(ana.last_message)) == "e0"
