"""A group chat that moves, refuses or loses the bot: members are asked all the same."""

import json
from collections.abc import Mapping
from datetime import timedelta

import pytest
from telegram import ChatPermissions

from demo_script.stand_in.faults import Fault, Trouble
from tests.journeys.chatroom import Chatroom, is_offered, link, open_chatroom
from tests.journeys.evening import PROMPTED, STARTS, WEEK, Evening, asked, sent_to


@pytest.fixture
async def room(evening: Evening) -> Chatroom:
    """The group's chat, linked, before the first class."""
    opened = await open_chatroom(evening)
    await link(evening)
    return opened


def lost_news(evening: Evening) -> list[str]:
    """What the instructor was told of a chat that refuses the bot."""
    said = sent_to(evening.api, evening.instructor)
    return [each for each in said if each.startswith("I can't write in")]


def everyone_is_asked(evening: Evening) -> bool:
    """Whether each member has the questions in private."""
    return all(str(asked(each.last_message)) == "c" for each in evening.members.values())


def refusing(chat: int, description: str) -> Fault:
    """Every message to this chat is refused with these words."""
    body = json.dumps({"ok": False, "error_code": 400, "description": description})

    def fault(method: str, params: Mapping[str, object]) -> Trouble | None:
        if method.startswith(("send", "edit")) and str(params.get("chat_id")) == str(chat):
            return Trouble(status=400, body=body)
        return None

    return fault


def silence(evening: Evening, room: Chatroom, *, may_write: bool) -> None:
    """An administrator decides whether the bot may write."""
    ines, bot = evening.instructor, evening.api.world.bot
    us = {"id": bot.account_id, "is_bot": True, "first_name": bot.name, "username": bot.username}
    rights = ChatPermissions.no_permissions().to_dict()

    def member(may: bool) -> dict[str, object]:
        standing = {"status": "restricted", "user": us, "is_member": True, "until_date": 0}
        return {**standing, **rights, "can_send_messages": may}

    evening.api.inject(
        {
            "my_chat_member": {
                "chat": {"id": room.group.group_id, "type": "supergroup", "title": "Thursday"},
                "from": {"id": ines.person_id, "is_bot": False, "first_name": ines.name},
                "date": int(evening.now.timestamp()),
                "old_chat_member": member(not may_write),
                "new_chat_member": member(may_write),
            }
        }
    )


# --- a group becomes a supergroup --------------------------------------------------------------


async def test_the_chat_is_followed_when_it_becomes_a_supergroup_between_classes(
    evening: Evening, room: Chatroom
) -> None:
    room.group.upgrade()
    await evening.settle()
    await evening.class_is_over()
    assert len(room.said) == 1
    assert await room.tap(evening.members["Ana"], 7) == (
        "Noted: 7. The rest is in our private chat."
    )
    assert evening.rows("SELECT chat FROM group_chat") == [(room.group.group_id,)]


async def test_an_open_question_is_asked_anew_when_the_chat_moves_and_old_buttons_still_work(
    evening: Evening, room: Chatroom
) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.class_is_over()
    old = room.question
    await room.tap(ana, 7)
    room.group.upgrade()
    await evening.settle()
    assert len(room.said) == 1
    assert await room.tap(ben, 4) == "Noted: 4. The rest is in our private chat."
    assert evening.answers(ben) == {"c": 4.0}
    press = ana.press(old, "9")
    await evening.settle()
    assert press.answer is not None
    assert evening.answers(ana) == {"c": 9.0}


async def test_a_count_in_the_middle_of_the_move_lands_in_the_new_chat(evening: Evening) -> None:
    await evening.join("Dana", "Emil", "Fay", "Gus")
    room = await open_chatroom(evening)
    await link(evening)
    await evening.class_is_over()
    people = list(evening.members.values())
    for person in people[:5]:
        await room.tap(person, 7)
    room.group.upgrade()  # the change of the count is still on its way to the old id
    await room.wait()
    await room.wait(2)
    assert len(room.said) == 1
    assert room.question.text.endswith("5 answers so far.")
    for person in people[5:]:
        await room.tap(person, 7)
    await room.wait()
    assert room.question.text.endswith("7 answers so far.")
    assert lost_news(evening) == []


async def test_a_move_that_nobody_told_of_is_followed_from_the_refusal(
    evening: Evening, room: Chatroom
) -> None:
    room.group.upgrade()
    evening.api.world.updates.drop_all()
    await evening.class_is_over()
    await room.wait(2)
    assert len(room.said) == 1
    assert evening.rows("SELECT chat FROM group_chat") == [(room.group.group_id,)]


async def test_nothing_is_asked_anew_once_the_question_is_too_old_to_help(
    evening: Evening, room: Chatroom
) -> None:
    await evening.class_is_over()
    await evening.leap(PROMPTED + timedelta(days=3))
    room.group.upgrade()
    await evening.settle()
    assert room.said == []


# --- put out, silenced, gone -------------------------------------------------------------------


async def test_a_bot_that_was_put_out_tells_the_instructor_once_and_asks_in_private(
    evening: Evening, room: Chatroom
) -> None:
    room.group.remove_bot()
    await evening.settle()
    assert len(lost_news(evening)) == 1
    for week in range(3):
        await evening.class_is_over(week)
        assert everyone_is_asked(evening)
    assert len(lost_news(evening)) == 1
    assert room.said == []


async def test_a_bot_that_is_let_in_again_goes_on_without_a_new_link(
    evening: Evening, room: Chatroom
) -> None:
    room.group.remove_bot()
    await evening.settle()
    room.group.add_bot()
    await evening.settle()
    assert "I am back in" in evening.instructor.last_message.text
    assert not is_offered(evening.instructor)
    await evening.class_is_over()
    assert len(room.said) == 1
    room.group.remove_bot()
    await evening.settle()
    assert len(lost_news(evening)) == 2


async def test_whoever_puts_the_bot_out_can_still_be_written_to(evening: Evening) -> None:
    ana = evening.members["Ana"]
    room = await open_chatroom(evening, by=ana)
    room.group.remove_bot()
    await evening.settle()
    assert evening.rows("SELECT * FROM unreachable WHERE chat > 0") == []
    await evening.class_is_over()
    assert str(asked(ana.last_message)) == "c"


async def test_a_bot_that_is_silenced_by_name_tells_so_and_goes_on_when_it_may_speak(
    evening: Evening, room: Chatroom
) -> None:
    silence(evening, room, may_write=False)
    await evening.settle()
    assert len(lost_news(evening)) == 1
    silence(evening, room, may_write=True)
    await evening.settle()
    assert "I am back in" in evening.instructor.last_message.text


@pytest.mark.parametrize(
    "refusal",
    [
        "Bad Request: not enough rights to send text messages to the chat",
        "Bad Request: message thread not found",
        "Bad Request: TOPIC_CLOSED",
        "Bad Request: chat not found",
    ],
)
async def test_a_chat_that_refuses_is_told_of_once_and_tried_again_after_each_class(
    evening: Evening, room: Chatroom, refusal: str
) -> None:
    evening.api.faults.append(refusing(room.group.group_id, refusal))
    for week in range(2):
        await evening.class_is_over(week)
        assert everyone_is_asked(evening)
    assert len(lost_news(evening)) == 1
    evening.api.faults.clear()
    for week in (2, 3):
        await evening.class_is_over(week)
    assert len(room.said) == 2
    evening.api.faults.append(refusing(room.group.group_id, refusal))
    await evening.class_is_over(week=4)
    assert len(lost_news(evening)) == 2


async def test_taps_are_kept_while_the_bot_may_not_write(evening: Evening, room: Chatroom) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    evening.api.faults.append(
        refusing(room.group.group_id, "Bad Request: have no rights to send a message")
    )
    assert await room.tap(ana, 7) == "Noted: 7. The rest is in our private chat."
    assert evening.answers(ana) == {"c": 7.0}


async def test_a_question_that_was_deleted_in_the_chat_does_not_come_back(
    evening: Evening,
) -> None:
    await evening.join("Dana", "Emil")
    room = await open_chatroom(evening)
    await link(evening)
    await evening.class_is_over()
    del room.group.chat.messages[room.question.message_id]
    for person in evening.members.values():
        await evening.answer(person, "c", 7)
    await room.wait()
    assert room.said == []


async def test_a_class_that_was_missed_for_too_long_is_asked_about_nowhere(
    evening: Evening, room: Chatroom
) -> None:
    await evening.leap(STARTS + WEEK)  # the computer was off until the next class began
    assert room.said == []
