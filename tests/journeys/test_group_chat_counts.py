"""How many have answered: nothing under five, never who, and few changes for many taps."""

from datetime import timedelta

import pytest

from tests.journeys.chatroom import Chatroom, link, open_chatroom
from tests.journeys.evening import Evening

DOZEN = [f"Member {place}" for place in range(1, 13)]


@pytest.fixture
async def full_room(evening: Evening) -> Chatroom:
    """The same with twelve members more, after the class."""
    await evening.join(*DOZEN)
    opened = await open_chatroom(evening)
    await link(evening)
    await evening.class_is_over()
    return opened


async def test_under_five_answers_nothing_is_counted(evening: Evening, full_room: Chatroom) -> None:
    before = full_room.question
    for place, name in enumerate(DOZEN[:4]):
        await full_room.tap(evening.members[name], place)
    await full_room.wait(60)
    assert full_room.question == before


async def test_from_five_on_the_chat_sees_how_many_have_answered_and_nothing_else(
    evening: Evening, full_room: Chatroom
) -> None:
    for name in DOZEN[:4]:
        await full_room.tap(evening.members[name], 3)
    await evening.answer(evening.members[DOZEN[4]], "c", 8)  # in private
    await full_room.wait()
    assert full_room.question.text.endswith("5 answers so far.")
    for name in DOZEN[5:7]:
        await full_room.tap(evening.members[name], None)
    await full_room.wait()
    assert full_room.question.text.endswith("7 answers so far.")
    assert len(full_room.said) == 1
    assert not any(name in full_room.question.text for name in evening.members)


async def test_a_changed_answer_changes_no_count_and_no_message(
    evening: Evening, full_room: Chatroom
) -> None:
    for name in DOZEN[:5]:
        await full_room.tap(evening.members[name], 3)
    await full_room.wait()
    edits = full_room.edits()
    for name in DOZEN[:5]:
        await full_room.tap(evening.members[name], 8)
    await full_room.wait(60)
    assert full_room.edits() == edits == 1


@pytest.mark.long
async def test_many_taps_in_a_minute_make_few_changes(
    evening: Evening, full_room: Chatroom
) -> None:
    forty = await evening.join(*(f"Guest {place}" for place in range(40)))
    for person in forty:
        full_room.group.add(person)
    began = evening.now
    question = full_room.question
    for person in forty:
        person.press(question, "7")
        await full_room.wait(1)
    took = evening.now - began
    await full_room.wait(40)
    assert full_room.question.text.endswith("40 answers so far.")
    assert 1 <= full_room.edits() <= took / timedelta(seconds=20) + 2
    assert len(evening.rows("SELECT 1 FROM answer")) == 40
