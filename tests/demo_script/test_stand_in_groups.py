"""Groups: what a bot sees there, coming and going, and the change to a supergroup."""

import pytest

from demo_script.stand_in import Group, Person, StandIn
from tests.demo_script.conftest import Caller, keyboard


@pytest.fixture
def bea(api: StandIn) -> Person:
    """Somebody who never pressed Start."""
    return api.person("Bea")


@pytest.fixture
async def group(api: StandIn, call: Caller, ann: Person, bea: Person) -> Group:
    """A group of two and the bot, whose first updates are read."""
    made = api.group("Morning class", [ann, bea])
    last_id = (await call("getUpdates"))[-1]["update_id"]
    await call("getUpdates", offset=last_id + 1)
    return made


async def test_the_bot_hears_that_it_was_added(call: Caller, api: StandIn, bea: Person) -> None:
    group = api.group("Morning class", [bea])
    changed, said = await call("getUpdates")
    assert changed["my_chat_member"]["old_chat_member"]["status"] == "left"
    assert changed["my_chat_member"]["new_chat_member"]["status"] == "member"
    assert said["message"]["new_chat_members"][0]["username"] == api.username
    assert said["message"]["chat"] == {
        "id": group.group_id,
        "type": "group",
        "title": "Morning class",
        "all_members_are_administrators": False,
    }
    assert group.group_id < 0


async def test_privacy_mode_hides_what_is_not_meant_for_the_bot(
    call: Caller, api: StandIn, group: Group, ann: Person, bea: Person
) -> None:
    ann.say("How was it?", group)
    ann.say("/scale", group)  # the bot hasn't written here yet
    ann.say("/scale@another_bot", group)
    ann.say(f"/scale@{api.username} now", group)
    await call("sendMessage", chat_id=group.group_id, text="Tap here")
    bea.say("/help", group)
    bea.say("8", group, reply_to=group.last_message)
    bea.say("8 from me too", group)
    assert await call.texts() == [f"/scale@{api.username} now", "/help", "8"]
    assert [m.text for m in group.messages][-1] == "8 from me too"


async def test_a_bot_with_a_say_sees_everything(call: Caller, group: Group, ann: Person) -> None:
    group.promote_bot()
    ann.say("How was it?", group)
    assert (await call("getUpdates"))[-1]["message"]["text"] == "How was it?"
    administrators = await call("getChatAdministrators", chat_id=group.group_id)
    assert [a["status"] for a in administrators] == ["creator", "administrator"]


async def test_everybody_in_the_group_can_press_without_start(
    call: Caller, api: StandIn, group: Group, bea: Person
) -> None:
    await call("sendMessage", chat_id=group.group_id, text="Rate", reply_markup=keyboard("7"))
    press = bea.press(group.last_message, "7")
    query = (await call("getUpdates"))[-1]["callback_query"]
    assert query["from"]["first_name"] == "Bea"
    assert query["message"]["chat"]["id"] == group.group_id
    await call("answerCallbackQuery", callback_query_id=press.query_id, text="Noted")
    assert (await press.answered()).text == "Noted"
    stranger = api.person("Cal")
    with pytest.raises(ValueError, match="Cal isn't in"):
        stranger.press(group.last_message, "7")


async def test_people_come_and_go_as_service_messages(
    call: Caller, api: StandIn, group: Group, ann: Person, bea: Person
) -> None:
    cal = api.person("Cal")
    group.add(cal)
    group.remove(bea)
    came, went = (update["message"] for update in await call("getUpdates"))
    assert came["new_chat_members"][0]["first_name"] == "Cal"
    assert went["left_chat_member"]["first_name"] == "Bea"
    assert await call("getChatMemberCount", chat_id=group.group_id) == 3
    where = {"chat_id": group.group_id}
    standings = [
        (await call("getChatMember", **where, user_id=person.person_id))["status"]
        for person in (ann, cal, bea)
    ]
    assert standings == ["creator", "member", "left"]
    assert await call.refused("getChatMember", **where, user_id=1) == (
        "400 Bad Request: user not found"
    )


async def test_after_the_upgrade_the_old_id_leads_to_the_new_one(
    call: Caller, group: Group
) -> None:
    old_id = group.group_id
    group.upgrade()
    leaving, arriving = (update["message"] for update in await call("getUpdates"))
    assert (leaving["chat"]["id"], leaving["migrate_to_chat_id"]) == (old_id, group.group_id)
    assert (arriving["chat"]["id"], arriving["migrate_from_chat_id"]) == (group.group_id, old_id)
    assert arriving["chat"]["type"] == "supergroup"
    body = await call.raw("sendMessage", chat_id=old_id, text="x")
    assert body == {
        "ok": False,
        "error_code": 400,
        "description": "Bad Request: group chat was upgraded to a supergroup chat",
        "parameters": {"migrate_to_chat_id": group.group_id},
    }
    sent = await call("sendMessage", chat_id=group.group_id, text="x")
    assert sent["message_id"] == 2  # a supergroup counts for itself
    assert str(group.group_id).startswith("-100")


async def test_a_bot_that_left_or_was_put_out_is_refused(
    call: Caller, group: Group, ann: Person
) -> None:
    await call("leaveChat", chat_id=group.group_id)
    ann.say("/help", group)
    refusal = await call.refused("sendMessage", chat_id=group.group_id, text="x")
    assert refusal == "403 Forbidden: bot is not a member of the group chat"
    group.add_bot()
    group.remove_bot()
    refusal = await call.refused("sendMessage", chat_id=group.group_id, text="x")
    assert refusal == "403 Forbidden: bot was kicked from the group chat"
    changes = [u["my_chat_member"]["new_chat_member"] for u in await call("getUpdates")]
    assert [change["status"] for change in changes] == ["left", "member", "kicked"]
    assert changes[-1]["until_date"] == 0


async def test_questions_about_chats(call: Caller, group: Group, ann: Person) -> None:
    assert (await call("getChat", chat_id=group.group_id))["title"] == "Morning class"
    assert (await call("getChat", chat_id=ann.person_id))["first_name"] == "Ann"
    assert await call.refused("getChatAdministrators", chat_id=ann.person_id) == (
        "400 Bad Request: there are no administrators in the private chat"
    )
    sent = await call("sendMessage", chat_id=group.group_id, text="x")
    where = {"chat_id": group.group_id}
    assert await call("pinChatMessage", **where, message_id=sent["message_id"]) is True
    assert await call.refused("pinChatMessage", **where, message_id=99) == (
        "400 Bad Request: message to pin not found"
    )
    assert await call("sendChatAction", **where, action="typing") is True
