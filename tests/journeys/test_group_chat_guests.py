"""Taps of people who aren't on the roster: invited where that is safe, and nothing is kept."""

from datetime import timedelta

import pytest

from bot.buttons import JoinButton
from bot.luck import fingerprint
from tests.journeys.chatroom import Chatroom, link, open_chatroom
from tests.journeys.evening import Evening, agree, asked, buttons, sent_to
from tests.journeys.plans import plan_text


@pytest.fixture
async def room(evening: Evening) -> Chatroom:
    """The group's chat, linked, before the first class."""
    opened = await open_chatroom(evening)
    await link(evening)
    return opened


async def test_a_stranger_s_tap_leads_to_the_terms_and_stores_nothing_about_them(
    evening: Evening,
) -> None:
    zoe = evening.api.person("Zoe")
    room = await open_chatroom(evening, zoe)
    await link(evening)
    await evening.class_is_over()
    before = evening.dump("invite", "shared_question")
    press = await room.press(zoe, 7)
    assert press.answer is not None
    assert press.answer.url is not None
    assert evening.dump("invite", "shared_question") == before
    zoe.open_link(press.answer.url)
    await evening.settle()
    assert any(isinstance(each, JoinButton) for each in buttons(zoe.last_message))
    agree(zoe)
    await evening.settle()
    assert await room.tap(zoe, 7) == "Noted: 7. The rest is in our private chat."
    assert evening.answers(zoe) == {"c": 7.0}
    assert str(asked(zoe.last_message)) == "e0"
    await room.tap(zoe, 5)
    assert evening.answers(zoe) == {"c": 5.0}
    about = [each for each in sent_to(evening.api, zoe) if "How hard" in each]
    assert len(about) == 1  # the second tap changed the message of the first


async def test_the_link_that_a_stranger_gets_opens_once_and_for_a_day(evening: Evening) -> None:
    zoe, yan = evening.api.person("Zoe"), evening.api.person("Yan")
    room = await open_chatroom(evening, zoe, yan)
    await link(evening)
    await evening.class_is_over()
    urls = [(await room.press(zoe, 7)).answer.url for _ in range(2)]  # type: ignore[union-attr]
    zoe.open_link(str(urls[0]))
    await evening.settle()
    agree(zoe)
    await evening.settle()
    yan.open_link(str(urls[0]))
    await evening.settle()
    assert "doesn't open anything" in yan.last_message.text
    await evening.leap(evening.now + timedelta(days=1))
    yan.open_link(str(urls[1]))
    await evening.settle()
    assert "doesn't open anything" in yan.last_message.text
    code = str(urls[1]).partition("start=")[2]
    stored = evening.rows("SELECT fingerprint FROM invite")
    assert (fingerprint(code),) in stored
    assert (code,) not in stored


async def test_whoever_taps_for_ever_gets_a_limited_number_of_links(evening: Evening) -> None:
    zoe = evening.api.person("Zoe")
    room = await open_chatroom(evening, zoe)
    await link(evening)
    await evening.class_is_over()
    presses = [zoe.press(room.question, "7") for _ in range(70)]
    await evening.settle()
    links = [each for each in presses if each.answer and each.answer.url]
    assert len(links) == 60
    assert presses[-1].answer is not None
    assert "ask your instructor for a link" in presses[-1].answer.text


async def test_a_chat_that_anybody_can_look_into_lets_nobody_in(
    evening: Evening, room: Chatroom
) -> None:
    await evening.class_is_over()
    zoe = evening.api.person("Zoe")
    evening.api.inject(
        {
            "callback_query": {
                "id": "1",
                "from": {"id": zoe.person_id, "is_bot": False, "first_name": "Zoe"},
                "chat_instance": "1",
                "data": room.question.button("7").data,
                "message": {
                    "message_id": room.question.message_id,
                    "date": 0,
                    "chat": {
                        "id": room.group.group_id,
                        "type": "supergroup",
                        "title": "Open to all",
                        "username": "open_to_all",
                    },
                },
            }
        }
    )
    before = evening.rows("SELECT * FROM invite")
    await evening.settle()
    assert evening.rows("SELECT * FROM invite") == before
    told = [each for each in evening.api.requests if each.method == "answerCallbackQuery"][-1]
    assert "ask your instructor for a link" in str(told.params["text"])
    assert "url" not in told.params


async def test_a_chat_that_the_class_has_left_lets_nobody_in(evening: Evening) -> None:
    zoe = evening.api.person("Zoe")
    left = await open_chatroom(evening, zoe)
    await link(evening)
    await evening.class_is_over()
    await open_chatroom(evening)
    await link(evening)
    press = await left.press(zoe, 7)
    assert press.answer is not None
    assert press.answer.url is None
    assert "ask your instructor for a link" in press.answer.text


async def test_a_member_of_another_group_is_invited_like_anybody_else(evening: Evening) -> None:
    room = await open_chatroom(evening)
    await link(evening)
    await evening.upload(plan_text("Early birds"))
    (other,) = await evening.join("Otto")
    room.group.add(other)
    await evening.class_is_over()
    press = await room.press(other, 7)
    assert press.answer is not None
    assert press.answer.url is not None
    stored = evening.rows(
        """SELECT count(*) FROM answer JOIN prompt ON prompt.id = prompt_id
        JOIN person ON person.id = person_id WHERE account = ?""",
        other.person_id,
    )
    assert stored == [(0,)]


async def test_the_instructor_s_own_tap_is_not_counted(evening: Evening, room: Chatroom) -> None:
    await evening.class_is_over()
    assert await room.tap(evening.instructor, 7) == (
        "You lead this class: only its members' answers are kept."
    )
    assert evening.rows("SELECT * FROM answer") == []
