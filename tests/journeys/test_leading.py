"""Several instructors: one-time links, handing over, leaving, and somebody who stands in."""

from datetime import timedelta

import pytest

from bot.buttons.people import Lead, LeadButton
from demo_script.stand_in import Message, Person
from tests.journeys.evening import ENDS, STARTS, Evening, buttons, data_of, sent_to
from tests.journeys.plans import plan_text

NOT_YOURS = "This button doesn't work for you."
OUTDATED = "This button is no longer in use."
REFUSED = "doesn't open anything"


async def page(evening: Evening, person: Person | None = None) -> Message:
    """What an instructor sees of who leads."""
    person = person or evening.instructor
    roster = await evening.say(person, "/people")
    await evening.press(person, data_of(roster, LeadButton, lead=Lead.SHOW), roster)
    return person.last_message


async def press(evening: Evening, person: Person, lead: Lead, message: Message) -> Message:
    """Press one of its buttons; what the bot last said then."""
    await evening.press(person, data_of(message, LeadButton, lead=lead), message)
    return person.last_message


def link_in(person: Person) -> str:
    """The newest link that this person was given."""
    return next(
        message.text.split()[-1] for message in reversed(person.messages) if "t.me" in message.text
    )


async def follow(evening: Evening, person: Person, link: str) -> Message:
    """Open a link; what the bot says to it."""
    person.open_link(link)
    await evening.settle()
    return person.last_message


async def accept(evening: Evening, person: Person, link: str) -> Message:
    """Open a link and say yes."""
    return await press(evening, person, Lead.ACCEPT, await follow(evening, person, link))


async def share(evening: Evening) -> Person:
    """Ines lets Olga lead with her."""
    await press(evening, evening.instructor, Lead.SHARE, await page(evening))
    olga = evening.api.person("Olga")
    await accept(evening, olga, link_in(evening.instructor))
    return olga


async def lend(evening: Evening) -> tuple[Person, str]:
    """Ines lets Sam stand in for the next class; Sam, and the link."""
    ines = evening.instructor
    classes = await press(evening, ines, Lead.CLASSES, await page(evening))
    first = next(each for each in buttons(classes) if isinstance(each, LeadButton) and each.about)
    await evening.press(ines, first.write(), classes)
    return evening.api.person("Sam"), link_in(ines)


async def test_a_second_instructor_sees_what_the_first_sees(evening: Evening) -> None:
    olga = await share(evening)
    assert "Olga leads Harbour Hall strength from now on." in [
        each.text for each in evening.instructor.messages
    ]
    assert "Ana" in (await evening.say(olga, "/digest")).text
    assert "people" in evening.api.menu(olga)
    assert "Ines and Olga" in (await page(evening, olga)).text
    await evening.leap(STARTS - timedelta(minutes=60))
    assert "Side plank" in " ".join(each.text for each in olga.messages[-4:])


async def test_a_link_to_lead_works_once_and_not_after_three_days(evening: Evening) -> None:
    await share(evening)
    late = evening.api.person("Late")
    assert REFUSED in (await follow(evening, late, link_in(evening.instructor))).text
    await press(evening, evening.instructor, Lead.SHARE, await page(evening))
    link = link_in(evening.instructor)
    asked = await follow(evening, late, link)
    await evening.leap(evening.now + timedelta(days=3))
    made = late.press(asked, data_of(asked, LeadButton, lead=Lead.ACCEPT))
    await evening.settle()
    assert made.answer is not None
    assert made.answer.text == OUTDATED
    assert REFUSED in (await follow(evening, late, link)).text
    assert evening.rows("SELECT count(*) FROM person WHERE name = 'Late'") == [(0,)]


@pytest.mark.parametrize("lead", [Lead.SHARE, Lead.HANDED_OVER, Lead.STAND_IN])
async def test_a_double_tap_makes_one_link_and_a_later_tap_another(
    evening: Evening, lead: Lead
) -> None:
    ines, shown = evening.instructor, await page(evening)
    if lead is Lead.HANDED_OVER:
        shown = await press(evening, ines, Lead.HAND_OVER, shown)
    elif lead is Lead.STAND_IN:
        shown = await press(evening, ines, Lead.CLASSES, shown)
    found = next(
        each for each in buttons(shown) if isinstance(each, LeadButton) and each.lead is lead
    )
    for _ in range(2):
        ines.press_raw(shown.message_id, found.write())
    await evening.settle()
    assert links(ines) == 1
    assert evening.rows("SELECT count(*) FROM entrusting") == [(1,)]
    await evening.leap(evening.now + timedelta(seconds=11))
    ines.press_raw(shown.message_id, found.write())
    await evening.settle()
    assert links(ines) == 2
    olga = evening.api.person("Olga")
    assert "t.me" not in (await follow(evening, olga, link_in(ines))).text


def links(person: Person) -> int:
    """How many links to lead this person was given."""
    return sum("start=" in each.text for each in person.messages if "works once" in each.text)


async def test_of_two_who_read_it_the_one_who_opened_it_last_may_say_yes(evening: Evening) -> None:
    await press(evening, evening.instructor, Lead.SHARE, await page(evening))
    link = link_in(evening.instructor)
    first, second = evening.api.person("First"), evening.api.person("Second")
    asked = await follow(evening, first, link)
    await follow(evening, second, link)
    made = first.press(asked, data_of(asked, LeadButton, lead=Lead.ACCEPT))
    await evening.settle()
    assert made.answer is not None
    assert made.answer.text == OUTDATED
    await press(evening, second, Lead.ACCEPT, second.last_message)
    assert "First" not in (await page(evening)).text
    assert "Second" in (await page(evening)).text


async def test_who_declines_leaves_nothing_behind_and_the_link_open(evening: Evening) -> None:
    await press(evening, evening.instructor, Lead.SHARE, await page(evening))
    link, shy = link_in(evening.instructor), evening.api.person("Shy")
    await press(evening, shy, Lead.DECLINE, await follow(evening, shy, link))
    assert evening.mentions(shy) == []
    await accept(evening, evening.api.person("Olga"), link)
    assert "Olga" in (await page(evening)).text


async def test_a_link_can_be_taken_back(evening: Evening) -> None:
    ines = evening.instructor
    await press(evening, ines, Lead.SHARE, await page(evening))
    link = link_in(ines)
    shown = await page(evening)
    assert "A link to lead the group as well, until" in shown.text
    for answer in ("Taken back: the link opens nothing any more.", OUTDATED):
        made = ines.press_raw(shown.message_id, data_of(shown, LeadButton, lead=Lead.TAKE_BACK))
        await evening.settle()
        assert made.answer is not None
        assert made.answer.text == answer
    assert REFUSED in (await follow(evening, evening.api.person("Olga"), link)).text


async def test_handing_over_asks_once_and_leaves_the_group_to_the_other(evening: Evening) -> None:
    ines, olga = evening.instructor, evening.api.person("Olga")
    question = await press(evening, ines, Lead.HAND_OVER, await page(evening))
    assert evening.rows("SELECT count(*) FROM entrusting") == [(0,)]
    await press(evening, ines, Lead.HANDED_OVER, question)
    old = await page(evening)
    await accept(evening, olga, link_in(ines))
    assert "in your place" in ines.last_message.text
    assert "don't lead a group" in (await evening.say(ines, "/people")).text
    assert "led by Olga." in (await page(evening, olga)).text
    for each in buttons(old):
        if isinstance(each, LeadButton):
            made = ines.press_raw(old.message_id, each.write())
            await evening.settle()
            assert made.answer is not None
            assert made.answer.text == NOT_YOURS


async def test_a_group_is_never_left_without_an_instructor(evening: Evening) -> None:
    ines = evening.instructor
    shown = await page(evening)
    made = ines.press(shown, data_of(shown, LeadButton, lead=Lead.LEAVE))
    forged = ines.press_raw(
        shown.message_id, data_of(shown, LeadButton, lead=Lead.LEAVE).replace(":leave", ":left")
    )
    await evening.settle()
    for each in (made, forged):
        assert each.answer is not None
        assert "only instructor" in each.answer.text
    assert evening.rows("SELECT count(*) FROM leading") == [(1,)]


async def test_of_two_one_may_leave_after_a_question_and_not_both(evening: Evening) -> None:
    ines, olga = evening.instructor, await share(evening)
    mine = await press(evening, ines, Lead.LEAVE, await page(evening))
    theirs = await press(evening, olga, Lead.LEAVE, await page(evening, olga))
    for person, question in ((ines, mine), (olga, theirs)):  # both had been asked
        person.press(question, data_of(question, LeadButton, lead=Lead.LEFT))
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM leading") == [(1,)]
    assert "no longer leads" in olga.last_message.text or "no longer lead" in ines.last_message.text


async def test_links_of_whoever_no_longer_leads_open_nothing(evening: Evening) -> None:
    ines = evening.instructor
    await share(evening)
    await press(evening, ines, Lead.SHARE, await page(evening))
    link = link_in(ines)
    question = await press(evening, ines, Lead.LEAVE, await page(evening))
    await press(evening, ines, Lead.LEFT, question)
    assert REFUSED in (await follow(evening, evening.api.person("Friend"), link)).text


async def test_guessing_codes_ends_also_for_links_to_lead(evening: Evening) -> None:
    await press(evening, evening.instructor, Lead.SHARE, await page(evening))
    link, guesser = link_in(evening.instructor), evening.api.person("Guesser")
    for at in range(5):
        guesser.press_start(f"guess{at}")
    await evening.settle()
    assert REFUSED in (await follow(evening, guesser, link)).text


async def test_a_code_is_kept_as_a_hash_alone(evening: Evening) -> None:
    await press(evening, evening.instructor, Lead.SHARE, await page(evening))
    code = link_in(evening.instructor).split("start=")[1]
    assert len(code) == 22
    assert code not in repr(evening.dump())


async def test_a_substitute_sees_that_class_and_nothing_else(evening: Evening) -> None:
    sam, link = await lend(evening)
    assert "stand in" in (await follow(evening, sam, link)).text
    await press(evening, sam, Lead.ACCEPT, sam.last_message)
    assert "Sam stands in" in evening.instructor.last_message.text
    assert "Ana" in (await evening.say(sam, "/digest")).text
    for command in ("/people", "/attendance", "/export", "/invite"):
        assert "don't lead a group" in (await evening.say(sam, command)).text
    since = len(evening.api.log)
    await evening.leap(STARTS - timedelta(minutes=60))
    assert any("Side plank" in text for text in sent_to(evening.api, sam, since))
    since = len(evening.api.log)
    await evening.leap(ENDS)
    assert "don't lead a group" in (await evening.say(sam, "/digest")).text
    await evening.leap(STARTS + timedelta(days=7, minutes=-60))
    assert not any("Side plank" in text for text in sent_to(evening.api, sam, since))


@pytest.mark.parametrize(("minutes", "told"), [(-30, True), (20, True), (-60 * 24, False)])
async def test_a_substitute_is_told_of_warning_signs_around_their_class(
    evening: Evening, minutes: int, told: bool
) -> None:
    sam, link = await lend(evening)
    await accept(evening, sam, link)
    await evening.leap(STARTS + timedelta(minutes=minutes))
    ana = evening.members["Ana"]
    await evening.say(ana, "/hurt")
    await evening.press(ana, "A warning sign")
    assert any("reported a warning sign" in each.text for each in sam.messages) is told
    assert any("warning sign" in each.text for each in evening.instructor.messages)


async def test_a_warning_sign_that_is_told_after_class_reaches_its_substitute(
    evening: Evening,
) -> None:
    sam, link = await lend(evening)
    await accept(evening, sam, link)
    await evening.class_is_over()
    await evening.leap(evening.now + timedelta(hours=3))
    await evening.answer_all(evening.members["Ana"], h="warning")
    assert "Ana (Harbour Hall strength) reported a warning sign." in sam.last_message.text


async def test_a_substitute_can_be_let_go_and_is_told(evening: Evening) -> None:
    sam, link = await lend(evening)
    await accept(evening, sam, link)
    shown = await page(evening)
    assert "Sam stands in on Thu 3 Sept, 18:30" in shown.text
    end = data_of(shown, LeadButton, lead=Lead.END)
    for _ in range(2):
        evening.instructor.press_raw(shown.message_id, end)
    await evening.settle()
    assert "needn't stand in" in sam.last_message.text
    assert "don't lead a group" in (await evening.say(sam, "/digest")).text
    assert sum("needn't stand in" in each.text for each in sam.messages) == 1


async def test_substitutes_survive_a_new_plan(evening: Evening) -> None:
    sam, link = await lend(evening)
    await accept(evening, sam, link)
    replaced = await evening.upload(plan_text(minutes=45))
    await evening.press(evening.instructor, replaced.buttons[0][0].data or "", replaced)
    assert "Ana" in (await evening.say(sam, "/digest")).text


async def test_another_groups_instructor_and_a_member_get_no_further(evening: Evening) -> None:
    ines, ana = evening.instructor, evening.members["Ana"]
    sam, link = await lend(evening)
    await accept(evening, sam, link)
    await press(evening, ines, Lead.SHARE, await page(evening))
    shown = await page(evening)
    await press(evening, ines, Lead.CLASSES, shown)
    found = {
        each.write()
        for message in (shown, ines.last_message)
        for each in buttons(message)
        if isinstance(each, LeadButton)
    }
    await evening.upload(plan_text("Tide Room yoga"))
    (other,) = await evening.join("Other")
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE training_group.name = 'Tide Room yoga' AND account = :account""",
            account=other.person_id,
        )
    before = evening.dump()
    for person in (ana, other, sam, evening.api.person("Stu")):
        for data in found:
            made = person.press_raw(1, data)
            await evening.settle()
            assert made.answer is not None
            assert made.answer.text == NOT_YOURS, (person.name, data)
    assert evening.dump() == before
    # and an instructor of both groups can't mix them up
    (tide,) = evening.rows("SELECT id FROM training_group WHERE name = 'Tide Room yoga'")
    for data in found:
        kind, _, *rest = data.split(":")
        if len(rest) == 2:
            ines.press_raw(1, ":".join((kind, str(tide[0]), *rest)))
    await evening.settle()
    assert evening.dump() == before
