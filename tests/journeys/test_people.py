"""The roster: who takes part; renamed, noted, removed, invited, and all of it undone."""

import json

import pytest

from bot.buttons.people import Care, Lead, LeadButton, PersonButton, RosterButton
from bot.buttons.personal import DataButton
from demo_script.stand_in import Message, Person
from tests.journeys.evening import Evening, agree, buttons, data_of
from tests.journeys.plans import plan_text


async def card(evening: Evening, name: str) -> Message:
    """Ines opens the card of this member."""
    roster = await evening.say(evening.instructor, "/people")
    for row in roster.buttons:
        for each in row:
            if each.label.startswith(name):
                await evening.press(evening.instructor, each.data or "", roster)
                return evening.instructor.last_message
    raise AssertionError(f"{name} isn't on the roster: {roster.buttons}")


async def care(evening: Evening, message: Message, what: Care, **having: object) -> Message:
    """Press a button of a card, and see what stands there then."""
    await evening.press(
        evening.instructor, data_of(message, PersonButton, care=what, **having), message
    )
    return evening.instructor.last_message


def names(message: Message) -> list[str]:
    """Who stands on a roster's page."""
    people = {
        each.write()
        for each in buttons(message)
        if isinstance(each, PersonButton)
        or (isinstance(each, LeadButton) and each.lead is Lead.INVITED)
    }
    return [key.label for row in message.buttons for key in row if key.data in people]


async def test_the_roster_names_everybody_with_their_state(evening: Evening) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.say(ana, "/pause")
    pause = ana.last_message.buttons[0][0]
    await evening.press(ana, pause.data or "")
    ben.block()
    await evening.settle()
    await evening.class_is_over()
    message = await evening.say(evening.instructor, "/people")
    assert "3 members take part." in message.text
    shown = names(message)
    assert shown[0] == "Ana · on pause"
    assert shown[1] == "Ben · can't be reached"
    assert shown[2] == "Cleo"
    ben.unblock()


async def test_a_card_tells_the_last_answers_in_short(evening: Evening) -> None:
    await evening.class_is_over()
    ana = evening.members["Ana"]
    await evening.answer_all(ana, c=8, e0="unfinished", d0=5)
    seen = await card(evening, "Ana")
    assert "Joined on Mon 31 Aug (Harbour Hall strength)" in seen.text
    assert "Thu 3 Sept: 8 of 10" in seen.text
    assert "cut short" in seen.text


async def test_a_name_for_this_group_is_seen_by_its_instructors_alone(evening: Evening) -> None:
    ines, ana = evening.instructor, evening.members["Ana"]
    asked = await care(evening, await card(evening, "Ana"), Care.NAME)
    assert "Write it to me" in asked.text
    said = await evening.say(ines, "<Annie> from the shop")
    assert "<Annie> from the shop" in said.text
    assert "<Annie>" in (await evening.say(ines, "/digest")).text
    assert "Annie" not in (await evening.say(ana, "/variant")).text
    again = await card(evening, "<Annie> from")
    assert "In the chat: Ana" in again.text
    asked = await care(evening, again, Care.NAME)
    await care(evening, asked, Care.CHAT_NAME)
    assert "In the chat" not in ines.last_message.text


async def test_what_can_be_no_name_is_asked_for_again_and_cancel_leaves_it(
    evening: Evening,
) -> None:
    ines = evening.instructor
    await care(evening, await card(evening, "Ana"), Care.NAME)
    for text in ("x" * 65, "two\nlines"):
        assert "can't be a name" in (await evening.say(ines, text)).text
    await evening.say(ines, "/cancel")
    assert "no open question" in (await evening.say(ines, "Annie")).text
    assert evening.rows("SELECT called FROM membership WHERE called IS NOT NULL") == []


async def test_a_rating_that_is_typed_after_a_newer_question_is_no_name(evening: Evening) -> None:
    """An instructor who takes part, too: the newest question decides what typing means."""
    ines = evening.instructor
    ines.open_link(evening.link)
    await evening.settle()
    agree(ines)
    await evening.settle()
    await care(evening, await card(evening, "Ana"), Care.NAME)
    await evening.class_is_over()
    await evening.say(ines, "7")
    assert evening.answers(ines)["c"] == 7
    assert evening.rows("SELECT called FROM membership WHERE called IS NOT NULL") == []


async def test_notes_are_kept_for_instructors_and_whom_they_are_about(evening: Evening) -> None:
    ines, ana, ben = evening.instructor, evening.members["Ana"], evening.members["Ben"]
    notes = await care(evening, await card(evening, "Ana"), Care.NOTES)
    assert "There are none yet." in notes.text
    await care(evening, notes, Care.NOTE)
    said = await evening.say(ines, "Left  shoulder:\n\n no overhead <work>")
    assert "Left shoulder:\nno overhead <work>" in said.text
    assert "no overhead" in (await card(evening, "Ana")).text
    assert "1 to 500" in (await _typed_note(evening, "x" * 501)).text
    for member, has in ((ana, True), (ben, False)):
        message = await evening.say(member, "/mydata")
        await evening.press(member, data_of(message, DataButton, choice="export"), message)
        whole = next(each for each in member.messages if each.document)
        assert ("no overhead" in (whole.document or b"").decode()) is has
    data = json.loads(next(each for each in ana.messages if each.document).document or b"")
    assert data["notes"][0]["group"] == "Harbour Hall strength"


async def _typed_note(evening: Evening, text: str) -> Message:
    notes = await care(evening, await card(evening, "Ana"), Care.NOTES)
    await care(evening, notes, Care.NOTE)
    return await evening.say(evening.instructor, text)


async def test_a_note_is_erased_after_one_question_and_twice_is_once(evening: Evening) -> None:
    ines = evening.instructor
    message = await _typed_note(evening, "Prefers the back row")
    question = await care(evening, message, Care.ERASE_NOTE)
    assert "Prefers the back row" in question.text
    assert evening.rows("SELECT count(*) FROM note") == [(1,)]
    yes = data_of(question, PersonButton, care=Care.NOTE_ERASED)
    for answer in ("Erased.", "This button is no longer in use."):
        made = ines.press_raw(question.message_id, yes)
        await evening.settle()
        assert made.answer is not None
        assert made.answer.text == answer
    assert evening.rows("SELECT count(*) FROM note") == [(0,)]


async def test_removing_asks_once_tells_them_politely_and_can_be_undone(evening: Evening) -> None:
    ines, ana = evening.instructor, evening.members["Ana"]
    await evening.class_is_over()
    await evening.answer_all(ana)
    question = await care(evening, await card(evening, "Ana"), Care.REMOVE)
    assert evening.rows("SELECT count(*) FROM membership WHERE left_at IS NOT NULL") == [(0,)]
    since = len(ana.messages)
    yes = data_of(question, PersonButton, care=Care.REMOVED)
    for _ in range(2):
        ines.press_raw(question.message_id, yes)
    await evening.settle()
    assert [each.text for each in ana.messages[since:]].pop().startswith("You no longer take part")
    assert len(ana.messages) == since + 1, "told once"
    before = len(ana.messages)
    await evening.class_is_over(week=1)
    assert len(ana.messages) == before, "not asked any more"
    assert evening.rows("SELECT count(*) FROM answer")[0] > (0,), "what was answered stays"
    left = await card(evening, "Ana")
    assert "Removed on" in left.text
    await care(evening, left, Care.RETURN)
    assert "again" in ana.last_message.text
    await evening.class_is_over(week=2)
    assert "How hard" in ana.last_message.text
    pressed = ines.press_raw(question.message_id, data_of(left, PersonButton, care=Care.RETURN))
    await evening.settle()
    assert pressed.answer is not None
    assert pressed.answer.text == "This button is no longer in use."


async def test_somebody_invited_by_name_waits_on_the_roster_until_they_come(
    evening: Evening,
) -> None:
    ines = evening.instructor
    roster = await evening.say(ines, "/people")
    await evening.press(ines, data_of(roster, LeadButton, lead=Lead.NEWCOMER), roster)
    said = await evening.say(ines, "Mira with the hat")
    link = said.text.split()[-1]
    roster = await evening.say(ines, "/people")
    assert "1 was invited and isn't here yet." in roster.text
    assert "Mira with the hat · invited" in names(roster)
    await evening.say(ines, "/invite")
    newcomer, late = evening.api.person("M. M."), evening.api.person("Late")
    newcomer.open_link(link)
    await evening.settle()
    assert "1 is reading the terms" in (await evening.say(ines, "/people")).text
    agree(newcomer)
    await evening.settle()
    assert "In the chat: M. M." in (await card(evening, "Mira with the hat")).text
    late.open_link(link)
    await evening.settle()
    assert "doesn't open anything" in late.last_message.text
    assert evening.rows("SELECT count(*) FROM invite WHERE called IS NOT NULL") == [(0,)]


async def test_an_invitation_can_be_taken_back(evening: Evening) -> None:
    ines, mira = evening.instructor, evening.api.person("Mira")
    roster = await evening.say(ines, "/people")
    await evening.press(ines, data_of(roster, LeadButton, lead=Lead.NEWCOMER), roster)
    link = (await evening.say(ines, "Mira")).text.split()[-1]
    roster = await evening.say(ines, "/people")
    await evening.press(ines, data_of(roster, LeadButton, lead=Lead.INVITED), roster)
    invited = ines.last_message
    back = data_of(invited, LeadButton, lead=Lead.UNINVITE)
    for _ in range(2):
        ines.press_raw(invited.message_id, back)
    await evening.settle()
    mira.open_link(link)
    await evening.settle()
    assert "doesn't open anything" in mira.last_message.text
    assert "Mira" not in "".join(names(await evening.say(ines, "/people")))


async def test_forty_people_stand_on_pages_and_an_old_page_button_finds_its_way(
    stage: Evening,
) -> None:
    await stage.found()
    await stage.join(*(f"Member {at:02}" for at in range(40)))
    ines = stage.instructor
    page = await stage.say(ines, "/people")
    seen = names(page)
    assert "Page 1 of 4" in page.text
    for at in (1, 2, 3):
        await stage.press(ines, data_of(ines.last_message, RosterButton, page=at))
        seen += names(ines.last_message)
    assert seen == [f"Member {at:02}" for at in range(40)]
    group = str(stage.rows("SELECT id FROM training_group")[0][0])
    ines.press_raw(page.message_id, RosterButton(group, 99).write())
    await stage.settle()
    assert "Page 4 of 4" in ines.last_message.text


async def test_whoever_leads_several_groups_is_asked_which(evening: Evening) -> None:
    ines = evening.instructor
    await evening.upload(plan_text("Tide Room yoga"))
    for command in ("/people", "/export"):
        message = await evening.say(ines, command)
        assert "Which group?" in message.text
        assert [row[0].label for row in message.buttons] == [
            "Harbour Hall strength",
            "Tide Room yoga",
        ]
    message = await evening.say(ines, "/people")
    await evening.press(ines, "Tide Room yoga", message)
    assert "Nobody is here yet." in ines.last_message.text


@pytest.mark.of_files
async def test_erasing_a_member_takes_notes_names_and_presence_along(evening: Evening) -> None:
    ines, ana = evening.instructor, evening.members["Ana"]
    await _typed_note(evening, "Quokka on her shirt")
    await care(evening, await card(evening, "Ana"), Care.NAME)
    await evening.say(ines, "Zebulina")
    message = await evening.say(ana, "/mydata")
    await evening.press(ana, data_of(message, DataButton, choice="erase"), message)
    await evening.press(ana, data_of(ana.last_message, DataButton, choice="yes"))
    await evening.theatre.house.turn()
    everything = repr(evening.dump())
    assert "Quokka" not in everything
    assert "Zebulina" not in everything
    content = evening.file.read_bytes()
    assert b"Quokka" not in content
    assert b"Zebulina" not in content


def is_card(message: Message) -> bool:
    """Whether a message is somebody's card."""
    return any(isinstance(each, PersonButton) for each in buttons(message))


async def test_nobody_else_gets_any_further_with_these_buttons(evening: Evening) -> None:
    ines, ana, stranger = evening.instructor, evening.members["Ana"], evening.api.person("Stu")
    opened = await card(evening, "Ana")
    assert is_card(opened)
    found = [each.write() for message in ines.messages for each in buttons(message)]
    before = evening.dump()
    for person in (ana, stranger):
        for data in found:
            if data[0] not in "CDEF":
                continue
            made: Person = person
            press = made.press_raw(1, data)
            await evening.settle()
            assert press.answer is not None
            assert press.answer.text == "This button doesn't work for you.", data
    assert evening.dump() == before
