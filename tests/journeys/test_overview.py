"""The picture that follows a digest: after the text, once, for those who lead the group."""

from datetime import timedelta

import pytest

from bot.pictures.cards import DigestCard, ProgressCard
from bot.pictures.render import rendered
from demo_script.stand_in import Message, Person
from tests.journeys.evening import STARTS, WEEK, Evening

DIGEST = STARTS - timedelta(minutes=60)


def pictures(person: Person) -> list[Message]:
    """Every message with a picture that somebody has got."""
    return [each for each in person.messages if each.attachment is not None
            and each.attachment.kind == "photo"]  # fmt: skip


@pytest.fixture
async def second_week(evening: Evening) -> Evening:
    """One class is over and rated by Ana and Ben; the digest of the next one is not due yet."""
    await evening.class_is_over()
    await evening.answer_all(evening.members["Ana"], c=7)
    await evening.answer_all(evening.members["Ben"], c=9)
    return evening


async def test_the_picture_follows_the_text_of_the_digest_once(second_week: Evening) -> None:
    instructor = second_week.instructor
    await second_week.leap(DIGEST + WEEK)
    (picture,) = pictures(instructor)
    assert instructor.last_message == picture
    assert "Harbour Hall strength" in instructor.messages[-2].text
    assert picture.protected
    assert "Classes as members felt them: 1 as planned, 1 harder, 0 easier" in picture.text
    for minute in (1, 2, 20):
        await second_week.leap(DIGEST + WEEK + timedelta(minutes=minute))
    assert pictures(instructor) == [picture]


async def test_before_the_first_class_there_is_nothing_to_see(evening: Evening) -> None:
    await evening.leap(DIGEST)
    assert "Harbour Hall strength" in evening.instructor.last_message.text
    assert pictures(evening.instructor) == []


async def test_it_can_be_asked_for_at_any_time(second_week: Evening) -> None:
    await second_week.say(second_week.instructor, "/digest")
    (picture,) = pictures(second_week.instructor)
    assert second_week.instructor.last_message == picture


async def test_members_and_strangers_never_get_it(second_week: Evening) -> None:
    ana, dora = second_week.members["Ana"], second_week.api.person("Dora")
    dora.press_start()
    for person in (ana, dora):
        await second_week.say(person, "/digest")
    await second_week.leap(DIGEST + WEEK)
    assert pictures(ana) == pictures(dora) == []


async def test_every_member_has_a_row_in_the_order_of_joining(
    second_week: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    cards: list[DigestCard] = []

    async def noting(card: ProgressCard | DigestCard) -> bytes:
        assert isinstance(card, DigestCard)
        cards.append(card)
        return await rendered(card)

    monkeypatch.setattr("bot.desk.overview.rendered", noting)
    await second_week.say(second_week.instructor, "/digest")
    assert cards[0].names == ("Ana", "Ben", "Cleo")
    assert [[each.value for each in row] for row in cards[0].cells] == [
        ["as planned"], ["harder"], ["not yet"],
    ]  # fmt: skip
    assert sum(len(each.members) for each in cards[0].spreads[0].options) == 3


async def test_a_picture_that_fails_once_is_drawn_by_the_next_turn(
    second_week: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def broken(card: ProgressCard | DigestCard) -> bytes:
        raise RuntimeError(card.title)

    with monkeypatch.context() as patch:
        patch.setattr("bot.desk.overview.rendered", broken)
        await second_week.leap(DIGEST + WEEK)
    assert "Harbour Hall strength" in second_week.instructor.last_message.text
    assert pictures(second_week.instructor) == []
    await second_week.leap(DIGEST + WEEK + timedelta(minutes=1))
    assert len(pictures(second_week.instructor)) == 1
