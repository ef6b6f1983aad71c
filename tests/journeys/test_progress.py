"""/progress: a picture with its words for whoever has rated enough, about nobody else."""

import pytest

from bot.pictures.cards import ProgressCard
from bot.pictures.render import rendered
from bot.storage.database import Database
from demo_script.stand_in import Message, Person
from tests.journeys.evening import Evening
from tests.journeys.plans import plan_text

PNG = b"\x89PNG\r\n\x1a\n"


async def take_part(evening: Evening, person: Person, efforts: tuple[float, ...]) -> None:
    """Some classes, each answered in full."""
    for week, effort in enumerate(efforts):
        await evening.class_is_over(week)
        await evening.answer_all(person, c=effort)


def picture(message: Message) -> bytes:
    """The picture that a message shows."""
    assert message.attachment is not None
    assert message.attachment.kind == "photo"
    return message.attachment.content


async def test_after_three_rated_classes_a_picture_comes_with_its_words(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await take_part(evening, ana, (7, 9, 5))
    shown = await evening.say(ana, "/progress")
    assert picture(shown).startswith(PNG)
    assert shown.attachment is not None
    assert shown.attachment.width == 1080
    assert shown.protected
    assert "Your progress in Harbour Hall strength" in shown.text
    assert "Of your last 3 rated classes, 1 felt as planned (6 to 8), 1 harder and 1 easier." in (
        shown.text
    )
    assert "about" in shown.text


async def test_before_that_it_is_said_kindly_that_there_is_nothing_to_see_yet(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    said = await evening.say(ana, "/progress")
    assert said.attachment is None
    assert "You haven't rated a class yet" in said.text
    await take_part(evening, ana, (7,))
    said = await evening.say(ana, "/progress")
    assert said.attachment is None
    assert "You have rated 1 class so far." in said.text
    assert "From 3 rated classes on" in said.text


async def test_it_is_about_nobody_else(evening: Evening, monkeypatch: pytest.MonkeyPatch) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    for week in range(3):
        await evening.class_is_over(week)
        await evening.answer_all(ana, c=7)
        await evening.answer_all(ben, c=10)
    cards: list[ProgressCard] = []

    async def noting(card: ProgressCard) -> bytes:
        cards.append(card)
        return await rendered(card)

    monkeypatch.setattr("bot.desk.progress.rendered", noting)
    shown = await evening.say(ana, "/progress")
    (card,) = cards
    assert [each.effort for each in card.ratings] == [7, 7, 7]
    assert not {"Ben", "Cleo"} & set(shown.text.replace(".", " ").split())
    assert "Ben" not in repr(card)


async def test_nobody_waits_while_it_is_drawn(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    ana = evening.members["Ana"]
    await take_part(evening, ana, (7, 7, 7))
    database: Database = evening.theatre.house.database
    others: list[str] = []

    async def while_drawing(card: ProgressCard) -> bytes:
        async with database.transaction():  # raises if this task is inside one, and waits for none
            others.append("had their turn")
        return await rendered(card)

    monkeypatch.setattr("bot.desk.progress.rendered", while_drawing)
    assert (await evening.say(ana, "/progress")).attachment is not None
    assert others == ["had their turn"]


async def test_the_words_come_even_if_the_picture_cannot_be_drawn(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    ana = evening.members["Ana"]
    await take_part(evening, ana, (7, 7, 7))

    async def broken(card: ProgressCard) -> bytes:
        raise RuntimeError(card.title)

    monkeypatch.setattr("bot.desk.progress.rendered", broken)
    said = await evening.say(ana, "/progress")
    assert said.attachment is None
    assert "All of your last 3 rated classes felt as planned (6 to 8)." in said.text


async def test_each_group_has_a_picture_of_its_own(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await take_part(evening, ana, (7, 7, 7))
    await evening.upload(plan_text("Morning mobility"))
    ana.open_link(evening.link)
    await evening.settle()
    (agree, *_), *_ = ana.last_message.buttons
    await evening.press(ana, agree.data or "")
    before = len(ana.messages)
    await evening.say(ana, "/progress")
    first, second = ana.messages[before + 1 :]
    assert first.attachment is not None
    assert "Harbour Hall strength" in first.text
    assert "Morning mobility" in second.text
    assert "You haven't rated a class yet" in second.text


async def test_a_stranger_and_someone_without_a_group_are_told_how_to_begin(
    evening: Evening,
) -> None:
    stranger = evening.api.person("Dora")
    stranger.press_start()
    said = await evening.say(stranger, "/progress")
    assert said.attachment is None
    assert "link" in said.text
    said = await evening.say(evening.instructor, "/progress")
    assert "not in a group yet" in said.text


async def test_the_words_fit_under_a_picture_with_the_longest_names(
    stage: Evening,
) -> None:
    plan = plan_text("&" * 64)
    for short, long in (("Side plank", "&S" * 32), ("knees bent", "&k" * 32)):
        plan = plan.replace(f'"{short}"', f'"{long}"')
    await stage.found(plan)
    (ana,) = await stage.join("Ana")
    await take_part(stage, ana, (7, 9, 5, 7))
    shown = await stage.say(ana, "/progress")
    assert picture(shown).startswith(PNG)
    assert len(shown.text) <= 1024
