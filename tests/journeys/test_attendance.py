"""Who was there, by tap: from then on it is known, and who missed it isn't asked."""

from datetime import timedelta

from bot.buttons.people import AttendanceButton, Presence
from bot.buttons.prompt import ShowButton
from bot.storage.history import reports_of_group
from demo_script.stand_in import Message, Person
from tests.journeys.evening import ENDS, PROMPTED, STARTS, Evening, asked, buttons, data_of
from tests.journeys.plans import plan_text

REFUSED = "This button doesn't work for you."


def seats(message: Message) -> dict[str, str]:
    """What stands before each name."""
    labels = [key.label for row in message.buttons for key in row]
    known = [each.split(" ", 1) for each in labels if each[0] in "✓✗·"]
    return {name: mark for mark, name in known}


async def look(evening: Evening) -> Message:
    """Ines asks who was there."""
    return await evening.say(evening.instructor, "/attendance")


async def tap(evening: Evening, name: str, *, by: Person | None = None) -> Message:
    """Ines taps a name, whatever it would note next."""
    ines = by or evening.instructor
    message = ines.last_message
    data = next(
        key.data for row in message.buttons for key in row if key.label.endswith(f" {name}")
    )
    await evening.press(ines, data or "", message)
    return ines.last_message


async def test_before_the_first_class_there_is_nothing_to_note(evening: Evening) -> None:
    assert "hasn't begun" in (await look(evening)).text


async def test_a_tap_goes_round_and_a_double_tap_says_the_same(evening: Evening) -> None:
    await evening.leap(STARTS + timedelta(minutes=5))
    message = await look(evening)
    assert seats(message) == {"Ana": "·", "Ben": "·", "Cleo": "·"}
    assert seats(await tap(evening, "Ana"))["Ana"] == "✓"
    assert seats(await tap(evening, "Ana"))["Ana"] == "✗"
    data = next(
        each.write()
        for each in buttons(evening.instructor.last_message)
        if isinstance(each, AttendanceButton) and each.presence is Presence.UNKNOWN
    )
    for _ in range(2):
        evening.instructor.press_raw(evening.instructor.last_message.message_id, data)
    await evening.settle()
    assert seats(evening.instructor.last_message)["Ana"] == "·"


async def test_who_was_not_there_is_not_asked_and_not_reminded(evening: Evening) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.leap(ENDS)
    await look(evening)
    await tap(evening, "Ana")
    await tap(evening, "Ana")
    before = len(ana.messages)
    await evening.class_is_over()
    await evening.leap(PROMPTED + timedelta(hours=20))
    assert len(ana.messages) == before
    assert asked(ben.last_message) is not None
    marked = evening.rows("SELECT word FROM attendance")
    assert marked == [("absent",)]


async def test_an_open_question_is_closed_and_comes_back(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    count = len(ana.messages)
    await look(evening)
    await tap(evening, "Ana")
    await tap(evening, "Ana")
    assert "you weren't in Harbour Hall strength" in ana.last_message.text
    assert len(ana.messages) == count, "in place of the question"
    await tap(evening, "Ana")
    assert asked(ana.last_message) is not None
    assert len(ana.messages) == count
    await evening.answer_all(ana)
    assert evening.answers(ana)["c"] == 7


async def test_what_a_member_says_themselves_counts(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.class_is_over()
    await look(evening)
    await tap(evening, "Ana")
    await tap(evening, "Ana")
    await evening.press(ana, data_of(ana.last_message, ShowButton))
    await evening.answer_all(ana, c=8)
    message = await look(evening)
    assert seats(message)["Ana"] == "✓•"
    data = next(key.data for row in message.buttons for key in row if key.label.endswith("• Ana"))
    press = await evening.press(evening.instructor, data or "", message)
    assert press.answer is not None
    assert "said it themselves" in press.answer.text
    assert "8 of 10" in await _answers(evening, ana)


async def _answers(evening: Evening, person: Person) -> str:
    message = await evening.say(evening.instructor, "/people")
    data = next(
        key.data for row in message.buttons for key in row if key.label.startswith(person.name)
    )
    await evening.press(evening.instructor, data or "", message)
    return evening.instructor.last_message.text


async def test_all_others_are_noted_after_one_question(evening: Evening) -> None:
    ines, ben = evening.instructor, evening.members["Ben"]
    await evening.class_is_over()
    await look(evening)
    message = await tap(evening, "Ana")
    await evening.press(ines, data_of(message, AttendanceButton, presence=Presence.OTHERS))
    question = ines.last_message
    assert "Ben and Cleo" in question.text
    assert evening.rows("SELECT count(*) FROM attendance") == [(1,)]
    yes = data_of(question, AttendanceButton, presence=Presence.OTHERS_AWAY)
    for _ in range(2):
        ines.press_raw(question.message_id, yes)
    await evening.settle()
    assert seats(ines.last_message) == {"Ana": "✓", "Ben": "✗", "Cleo": "✗"}
    assert "weren't in" in ben.last_message.text


async def test_who_was_there_and_silent_is_not_taken_for_away(evening: Evening) -> None:
    """Noted as present, they are known to have trained; what they felt isn't."""
    await evening.class_is_over()
    await evening.answer_all(evening.members["Ana"])
    await look(evening)
    await tap(evening, "Ben")
    await tap(evening, "Cleo")
    await tap(evening, "Cleo")
    async with evening.theatre.house.database.transaction() as tx:
        group = await tx.value("SELECT id FROM training_group")
        reports = await reports_of_group(tx, group)
    told = sorted((each.attended, each.noted, each.effort) for each in reports.ratings)
    assert told == [(False, True, None), (True, False, 7.0), (True, True, None)]


async def test_earlier_classes_can_be_noted_later(evening: Evening) -> None:
    await evening.class_is_over(week=1)
    message = await look(evening)
    earlier = next(
        each
        for each in buttons(message)
        if isinstance(each, AttendanceButton) and each.session != _session(message)
    )
    await evening.press(evening.instructor, earlier.write(), message)
    assert "3 Sept" in evening.instructor.last_message.text
    await tap(evening, "Cleo")
    assert seats(evening.instructor.last_message)["Cleo"] == "✓"
    day = evening.rows("SELECT local_day FROM attendance JOIN session ON session.id = session_id")
    assert day == [("2026-09-03",)]


def _session(message: Message) -> str:
    return next(
        each.session
        for each in buttons(message)
        if isinstance(each, AttendanceButton) and each.presence is not None
    )


async def test_forty_people_stand_on_pages(stage: Evening) -> None:
    await stage.found()
    await stage.join(*(f"Member {at:02}" for at in range(41)))
    await stage.leap(STARTS)
    message = await look(stage)
    assert len(seats(message)) == 20
    last = data_of(message, AttendanceButton, page=1, presence=None)
    await stage.press(stage.instructor, last, message)
    last = data_of(stage.instructor.last_message, AttendanceButton, page=2, presence=None)
    await stage.press(stage.instructor, last)
    assert list(seats(stage.instructor.last_message)) == ["Member 40"]


async def test_strangers_members_and_other_instructors_note_nothing(evening: Evening) -> None:
    ines, ana = evening.instructor, evening.members["Ana"]
    await evening.class_is_over()
    message = await look(evening)
    found = [each.write() for each in buttons(message) if isinstance(each, AttendanceButton)]
    await evening.upload(plan_text("Tide Room yoga"))
    (other,) = await evening.join("Other")
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE training_group.name = 'Tide Room yoga' AND account = :account""",
            account=other.person_id,
        )
        await tx.execute(
            """DELETE FROM leading WHERE person_id = (
                SELECT id FROM person WHERE account = :account
            )""",
            account=ines.person_id,
        )  # Ines led it until now
    before = evening.dump()
    for person in (ana, other, evening.api.person("Stu"), ines):
        for data in found:
            press = person.press_raw(1, data)
            await evening.settle()
            assert press.answer is not None
            assert press.answer.text == REFUSED
    assert evening.dump() == before
