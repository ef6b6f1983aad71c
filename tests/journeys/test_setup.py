"""A group is set up in chat, whatever the instructor taps and types on the way."""

import pytest

from bot.buttons.setup import Act, Stage
from bot.planfile import read_plan_file
from demo_script.stand_in import Message
from tests.journeys.evening import Evening, buttons
from tests.journeys.founder import Founder, about, drafted
from tests.journeys.plans import plan_text

MOST_TAPS, MOST_TYPED = 22, 8
"""For a typical group of two days and five movements: what five minutes on a phone allow."""
LONG = "Strength and mobility for absolutely everybody at Harbour Hall 64"


@pytest.fixture
async def founder(stage: Evening) -> Founder:
    """The bot is claimed, and there is no group."""
    await stage.claim()
    return Founder(evening=stage)


def labels(message: Message) -> list[str]:
    """What stands on the buttons."""
    return [each.label for row in message.buttons for each in row]


def stored_plan(founder: Founder) -> str:
    """The newest plan file in the database."""
    ((document,),) = founder.evening.rows("SELECT document FROM plan ORDER BY made_at DESC LIMIT 1")
    return str(document)


async def test_a_typical_group_takes_few_taps_from_nothing_to_its_link(founder: Founder) -> None:
    await founder.typical_group()
    assert "Shall I make it?" in founder.page.text
    assert "2 × 30 s, on toes" in founder.page.text
    await founder.tap(Act.MAKE)
    assert (founder.taps, founder.typed) <= (MOST_TAPS, MOST_TYPED)
    made = founder.person.messages[-2]
    assert "Harbour Hall strength is ready" in made.text
    assert "https://t.me/" in made.text
    plan = read_plan_file(stored_plan(founder), "stored")
    assert (plan.timezone, plan.minutes, plan.plan.target) == ("Europe/Lisbon", 50, 7)
    assert plan.rrule == "FREQ=WEEKLY;BYDAY=TU,TH"
    assert str(plan.starts) == "2026-09-01 18:30:00", "the first class is the next one"
    squat = plan.plan.line("Goblet squat")
    assert squat is not None
    assert (squat.dose.sets, squat.dose.amount, squat.dose.load) == (3, 8, 12)
    assert founder.evening.rows("SELECT * FROM draft") == []
    assert {"newgroup", "plan", "invite"} <= set(founder.evening.api.menu(founder.person))


async def test_the_picture_of_the_link_comes_as_a_document_to_print(founder: Founder) -> None:
    await founder.typical_group()
    await founder.tap(Act.MAKE)
    picture = founder.person.last_message
    assert picture.attachment is not None
    assert picture.attachment.name == "harbour-hall-strength-qr.png"
    assert picture.document is not None
    assert picture.document.startswith(b"\x89PNG")
    assert not picture.protected, "it is to be passed on"


async def test_a_group_that_was_set_up_in_chat_works_like_any_other(founder: Founder) -> None:
    await founder.typical_group()
    await founder.tap(Act.MAKE)
    stage = founder.evening
    stage.link = next(
        word for word in founder.person.messages[-2].text.split() if word.startswith("https://")
    )
    (ana,) = await stage.join("Ana")
    assert "Forearm plank" in (await stage.say(ana, "/variant")).text


async def test_everything_can_be_typed(founder: Founder) -> None:
    await founder.says("/newgroup")
    for text in ("Morning", "Mon, Wed-Fri", "6:15 am", "1 h 15", "São Paulo", "wall sit", "3x45"):
        await founder.says(text)
    await founder.says("calf raise")
    await founder.go(Stage.LINES)
    await founder.go(Stage.TARGET)
    said = await founder.says("6.5")
    plain = said.text.replace("São", "Sao")  # CLDR writes it both ways, from release to release
    assert "Mon, Wed, Thu and Fri, 06:15 (Sao Paulo), 75 minutes" in plain
    assert "Effort aimed at: 6.5" in said.text
    assert "Wall sit: 3 × 45 s" in said.text
    assert "Calf raise" in said.text


@pytest.mark.parametrize(
    ("upto", "text", "expected"),
    [
        (0, "x" * 65, "a name of 1 to 64 letters"),
        (0, "\u202e", "a name of 1 to 64 letters"),
        (1, "Feb 30", "days of the week, such as: Mon and Thu"),
        (2, "half past", "a time of day, such as 18:15"),
        (3, "4", "5 to 600 minutes"),
        (3, "for ever", "5 to 600 minutes"),
        (4, "Atlantis", "no city or country called “Atlantis”"),
        (5, "quidditch", "nothing that fits “quidditch”"),
        (6, "9999", "an amount from 10 to 90"),
        (6, "<b>", "an amount from 10 to 90"),
    ],
)
async def test_nonsense_is_answered_with_what_was_expected(
    founder: Founder, upto: int, text: str, expected: str
) -> None:
    await founder.says("/newgroup")
    for right in ("Group", "Thu", "18:30", "50", "Lisbon", "forearm plank")[:upto]:
        await founder.says(right)
    (before,) = founder.evening.rows("SELECT document, step FROM draft")
    said = await founder.says(text)
    assert expected in said.text
    assert "othing was stored" in said.text or "nothing was" in said.text
    assert drafted(said), "the same page follows, so that they can go on"
    assert founder.evening.rows("SELECT document, step FROM draft") == [before]


async def test_a_name_of_64_letters_stands_everywhere(founder: Founder) -> None:
    name = LONG[:64]
    await founder.says("/newgroup")
    for text in (name, "Thu", "18:30", "50", "Lisbon", "wall sit"):
        await founder.says(text)
    await founder.go(Stage.LINES)
    await founder.go(Stage.TARGET)
    await founder.tap(Act.TARGET, "-:7")
    await founder.tap(Act.MAKE)
    assert founder.evening.rows("SELECT name FROM training_group") == [(name,)]


async def test_two_groups_of_one_name_are_not_made(founder: Founder) -> None:
    await founder.evening.upload(plan_text())
    await founder.says("/newgroup")
    said = await founder.says("harbour hall STRENGTH")
    assert "take another name" in said.text
    assert "name =" not in str(founder.evening.rows("SELECT document FROM draft"))


async def test_the_place_of_another_group_is_offered_first(founder: Founder) -> None:
    await founder.evening.upload(plan_text(timezone="America/Halifax"))
    await founder.says("/newgroup")
    for text in ("Evening", "Thu", "18:30", "50"):
        await founder.says(text)
    assert labels(founder.page)[0].startswith("Halifax, 09:0")


async def test_a_place_is_found_by_its_clock(founder: Founder) -> None:
    await founder.says("/newgroup")
    for text in ("Evening", "Thu", "18:30", "50", "5:30 pm"):
        await founder.says(text)
    assert any(each.startswith("Kolkata, 17:3") for each in labels(founder.page))


async def test_a_movement_can_be_put_elsewhere_and_taken_out(founder: Founder) -> None:
    await founder.typical_group()
    await founder.go(Stage.LINES)
    bug = about("Dead bug")
    await founder.go(Stage.LINE, bug)
    await founder.tap(Act.PLACE, f"{bug}:3")
    await founder.go(Stage.DROP, bug)
    await founder.go(Stage.LINE, bug)
    await founder.go(Stage.DROP, bug)
    await founder.tap(Act.DROP, bug)
    assert labels(founder.page)[3].startswith("4. Side plank")
    assert not any("Dead bug" in each for each in labels(founder.page))


async def test_a_class_holds_twelve_movements(founder: Founder) -> None:
    await founder.says("/newgroup")
    for text in ("Evening", "Thu", "18:30", "50", "Lisbon"):
        await founder.says(text)
    taken = [each for each in buttons(founder.page) if getattr(each, "act", None) is Act.TAKE]
    assert len(taken) == 12
    for each in taken:
        await founder.press_old(each.write())
    said = await founder.says("wall sit")
    assert "12 movements at most" in said.text
    ((document,),) = founder.evening.rows("SELECT document FROM draft")
    assert str(document).count("[[movement]]") == 12
