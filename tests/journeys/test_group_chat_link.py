"""Linking the class's group chat: by its instructor alone, in private, and undone by a tap."""

from datetime import timedelta

from bot.buttons import LinkButton, UnlinkButton
from bot.words.help import INSTRUCTOR_COMMANDS
from tests.journeys.chatroom import TITLE, is_linked, is_offered, link, open_chatroom
from tests.journeys.evening import Evening, button, buttons, data_of
from tests.journeys.plans import plan_text

TOPIC = 17


async def test_an_instructor_who_adds_the_bot_is_asked_in_private_whose_chat_it_is(
    evening: Evening,
) -> None:
    room = await open_chatroom(evening)
    assert TITLE in evening.instructor.last_message.text
    said = await link(evening)
    assert "is the chat of Harbour Hall strength" in said.text
    assert evening.rows("SELECT chat, title FROM group_chat") == [(room.group.group_id, TITLE)]
    assert room.said == []


async def test_a_member_who_adds_the_bot_hears_nothing_and_links_nothing(evening: Evening) -> None:
    ana = evening.members["Ana"]
    before = ana.last_message
    room = await open_chatroom(evening, by=ana)
    ana.say(f"/groupchat@{evening.api.username}", room.group)
    await evening.settle()
    assert ana.last_message == before
    assert not is_offered(evening.instructor)
    assert room.said == []
    assert evening.rows("SELECT * FROM chat_offer") == []


async def test_the_command_in_the_chat_is_answered_to_the_instructor_in_private(
    evening: Evening,
) -> None:
    room = await open_chatroom(evening, by=evening.members["Ana"])
    evening.instructor.say(f"/groupchat@{evening.api.username}", room.group)
    await evening.settle()
    assert is_offered(evening.instructor)
    await link(evening)
    assert is_linked(evening.instructor)
    assert room.said == []


async def test_other_commands_in_the_chat_are_answered_by_nobody(evening: Evening) -> None:
    room = await open_chatroom(evening)
    await link(evening)
    before = len(evening.api.requests)
    commands = sorted({"start", *INSTRUCTOR_COMMANDS} - {"groupchat"})
    for some in (commands[::2], commands[1::2]):  # fewer than are too many for a minute
        for command in some:
            evening.instructor.say(f"/{command}@{evening.api.username}", room.group)
        await evening.leap(evening.now + timedelta(minutes=2))
    sent = [each.method for each in evening.api.requests[before:]]
    assert set(sent) <= {"getUpdates"}


async def test_nobody_else_can_press_what_an_instructor_was_offered(evening: Evening) -> None:
    await open_chatroom(evening)
    offered = button(evening.instructor.last_message, LinkButton)
    ana, message_id = evening.members["Ana"], evening.instructor.last_message.message_id
    stranger = evening.api.person("Zoe")
    presses = [each.press_raw(message_id, offered.write()) for each in (ana, stranger)]
    await evening.settle()
    assert [each.answer.text for each in presses if each.answer] == [
        "This button is no longer in use."
    ] * 2
    assert evening.rows("SELECT * FROM group_chat") == []


async def test_an_instructor_cannot_link_a_chat_to_a_group_that_isn_t_theirs(
    evening: Evening,
) -> None:
    await open_chatroom(evening)
    offered = button(evening.instructor.last_message, LinkButton)
    forged = LinkButton(offered.offer, "abcdefghijkl")
    press = evening.instructor.press_raw(evening.instructor.last_message.message_id, forged.write())
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This button doesn't work for you."
    assert evening.rows("SELECT * FROM group_chat") == []


async def test_a_chat_is_unlinked_and_linked_again_with_one_tap_each(evening: Evening) -> None:
    room = await open_chatroom(evening)
    linked = await link(evening)
    await evening.press(evening.instructor, data_of(linked, UnlinkButton))
    assert evening.rows("SELECT * FROM group_chat") == []
    await evening.class_is_over()
    assert room.said == []
    message = next(m for m in evening.instructor.messages if m.message_id == linked.message_id)
    await evening.press(evening.instructor, data_of(message, LinkButton), message)
    assert len(evening.rows("SELECT * FROM group_chat")) == 1
    await evening.class_is_over(week=1)
    assert len(room.said) == 1


async def test_only_its_instructor_unlinks_a_chat(evening: Evening) -> None:
    await open_chatroom(evening)
    linked = await link(evening)
    data = data_of(linked, UnlinkButton)
    press = evening.members["Ana"].press_raw(linked.message_id, data)
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This button doesn't work for you."
    assert len(evening.rows("SELECT * FROM group_chat")) == 1


async def test_two_groups_do_not_share_a_chat(evening: Evening) -> None:
    await evening.upload(plan_text("Early birds"))
    room = await open_chatroom(evening)
    offered = evening.instructor.last_message
    first, second = (each.write() for each in buttons(offered))
    await evening.press(evening.instructor, first)
    press = evening.instructor.press_raw(offered.message_id, second)
    await evening.settle()
    assert press.answer is not None
    assert press.answer.text == "This chat already belongs to another class."
    assert len(evening.rows("SELECT * FROM group_chat")) == 1
    assert room.said == []


async def test_another_chat_takes_the_place_of_the_first(evening: Evening) -> None:
    first = await open_chatroom(evening)
    await link(evening)
    second = await open_chatroom(evening)
    await link(evening)
    await evening.class_is_over()
    assert (len(first.said), len(second.said)) == (0, 1)


async def test_in_private_the_command_shows_each_group_with_its_chat(evening: Evening) -> None:
    said = await evening.say(evening.instructor, "/groupchat")
    assert "has no group chat yet" in said.text
    (adding,) = (each for row in said.buttons for each in row)
    assert adding.url == f"https://t.me/{evening.api.username}?startgroup=class"
    await open_chatroom(evening)
    await link(evening)
    said = await evening.say(evening.instructor, "/groupchat")
    assert TITLE in said.text
    assert is_linked(evening.instructor)
    assert "don't lead" in (await evening.say(evening.members["Ana"], "/groupchat")).text


async def test_what_is_linked_in_a_topic_is_asked_in_that_topic(evening: Evening) -> None:
    room = await open_chatroom(evening, by=evening.members["Ana"])
    command = f"/groupchat@{evening.api.username}"
    ines = evening.instructor
    evening.api.inject(
        {
            "message": {
                "message_id": 900,
                "date": int(evening.now.timestamp()),
                "message_thread_id": TOPIC,
                "is_topic_message": True,
                "chat": {"id": room.group.group_id, "type": "supergroup", "title": TITLE},
                "from": {"id": ines.person_id, "is_bot": False, "first_name": ines.name},
                "text": command,
                "entities": [{"type": "bot_command", "offset": 0, "length": len(command)}],
            }
        }
    )
    await evening.settle()
    await link(evening)
    await evening.class_is_over()
    asked = next(
        each
        for each in evening.api.requests
        if each.method == "sendMessage" and str(each.params["chat_id"]) == str(room.group.group_id)
    )
    assert str(asked.params["message_thread_id"]) == str(TOPIC)
