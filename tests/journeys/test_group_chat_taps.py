"""Rating with one tap in the group chat: kept and told in private, in step with the prompt."""

from datetime import timedelta

import pytest

from bot.buttons import AnswerButton
from tests.journeys.chatroom import Chatroom, link, open_chatroom
from tests.journeys.evening import (
    STARTS,
    WEEK,
    Evening,
    answer_data,
    asked,
    data_of,
    is_summary,
)


@pytest.fixture
async def room(evening: Evening) -> Chatroom:
    """The group's chat, linked, before the first class."""
    opened = await open_chatroom(evening)
    await link(evening)
    return opened


async def test_one_neutral_message_comes_after_class_and_everyone_is_asked_in_private_too(
    evening: Evening, room: Chatroom
) -> None:
    await evening.class_is_over()
    assert len(room.said) == 1
    assert room.question.labels == (
        ("0", "1", "2", "3", "4", "5"),
        ("6", "7", "8", "9", "10"),
        ("I wasn't there",),
        ("The rest, in private",),
    )
    assert room.question.button("The rest, in private").url == (
        f"https://t.me/{evening.api.username}"
    )
    assert not any(name in room.question.text for name in evening.members)
    assert {str(asked(each.last_message)) for each in evening.members.values()} == {"c"}


async def test_a_tap_is_stored_told_to_its_member_alone_and_moves_their_prompt_on(
    evening: Evening, room: Chatroom
) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.class_is_over()
    prompt, others = ana.last_message, ben.last_message
    assert await room.tap(ana, 7) == "Noted: 7. The rest is in our private chat."
    assert evening.answers(ana) == {"c": 7.0}
    assert str(asked(ana.last_message)) == "e0"
    assert ana.last_message.message_id == prompt.message_id
    assert ben.last_message == others
    await evening.answer_all(ana)
    assert is_summary(ana.last_message)


async def test_a_later_answer_replaces_an_earlier_one_wherever_it_was_given(
    evening: Evening, room: Chatroom
) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await evening.answer(ana, "c", 5)
    assert await room.tap(ana, 8) == "Noted: 8. The rest is in our private chat."
    assert evening.answers(ana) == {"c": 8.0}
    await evening.say(ana, "7.5")
    assert evening.answers(ana) == {"c": 8.0, "e0": 7.5}
    await evening.press(ana, "Back")  # to what was just rated, and then to the whole class
    await evening.press(ana, "Back")
    await evening.answer(ana, "c", 6)
    assert evening.answers(ana) == {"c": 6.0, "e0": 7.5}


async def test_whoever_has_said_everything_corrects_the_rating_with_one_tap(
    evening: Evening, room: Chatroom
) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await evening.answer_all(ana, c=6)
    assert await room.tap(ana, 9) == "Noted: 9. Thank you, that's everything."
    assert evening.answers(ana)["c"] == 9.0
    assert is_summary(ana.last_message)
    assert "Whole class: 9" in ana.last_message.text


async def test_who_was_not_there_says_so_and_is_asked_nothing_more(
    evening: Evening, room: Chatroom
) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    assert await room.tap(ana, None) == "Noted: you weren't there."
    assert evening.answers(ana) == {"c": "absent"}
    assert is_summary(ana.last_message)


async def test_the_same_tap_twice_changes_nothing(evening: Evening, room: Chatroom) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await room.tap(ana, 7)
    before, message = evening.dump("answer", "prompt", "session"), ana.last_message
    await room.tap(ana, 7)
    assert evening.answers(ana) == {"c": 7.0}
    assert evening.dump("answer", "prompt", "session") == before
    assert ana.last_message.text == message.text


async def test_a_maximal_tap_counts_for_the_alerts_like_any_answer(
    evening: Evening, room: Chatroom
) -> None:
    for week in range(2):
        await evening.class_is_over(week)
        await room.tap(evening.members["Ana"], 10)
    assert "Ana" in evening.instructor.last_message.text
    assert "maximum" in evening.instructor.last_message.text


async def test_an_answer_changes_until_the_next_class_starts_and_then_no_more(
    evening: Evening, room: Chatroom
) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await room.tap(ana, 4)
    await evening.leap(STARTS + WEEK - timedelta(seconds=1))
    assert await room.tap(ana, 6) == "Noted: 6. The rest is in our private chat."
    await evening.leap(STARTS + WEEK)
    assert await room.tap(ana, 9) == "This question is closed."
    assert evening.answers(ana) == {"c": 6.0}


async def test_the_next_question_takes_the_buttons_off_the_last_one(
    evening: Evening, room: Chatroom
) -> None:
    await evening.class_is_over()
    first = room.question
    await evening.class_is_over(week=1)
    assert len(room.said) == 2
    assert "This question is closed." in room.said[0]
    assert room.group.chat.messages[first.message_id].labels == ()
    ana = evening.members["Ana"]
    press = ana.press_raw(
        first.message_id, first.button("7").data or "", room.group, accessible=False
    )
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This question is closed."
    assert evening.answers(ana) == {}


# --- members who can't be written to -----------------------------------------------------------


async def test_a_member_who_has_blocked_the_bot_can_still_tap_and_is_not_written_to(
    evening: Evening, room: Chatroom
) -> None:
    ana = evening.members["Ana"]
    ana.block()
    await evening.settle()
    await evening.class_is_over()
    assert await room.tap(ana, 6) == "Noted: 6. The rest is in our private chat."
    assert evening.answers(ana) == {"c": 6.0}
    refused = [each for each in evening.api.requests if "blocked" in each.description]
    assert refused == []
    ana.press_start()
    await evening.settle()
    assert str(asked(ana.last_message)) == "e0"


async def test_an_old_tap_on_a_prompt_in_private_still_works_after_a_tap_in_the_chat(
    evening: Evening, room: Chatroom
) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    old = answer_data(ana.last_message, "c", 3)
    await room.tap(ana, 8)
    press = ana.press_raw(ana.last_message.message_id, old)
    await evening.settle()
    assert press.answer is not None
    assert evening.answers(ana) == {"c": 3.0}
    assert data_of(ana.last_message, AnswerButton, number=7.0).split(":")[2] == "e0"
