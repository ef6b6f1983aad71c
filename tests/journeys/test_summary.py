"""After a class: one short summary, when all have answered or by the next morning."""

from datetime import timedelta

import pytest

from bot.buttons import ClassButton
from bot.buttons.watching import AboutClass
from core.demands import DemandChange
from demo_script.stand_in import Message, Person
from tests.journeys.evening import PROMPTED, WEEK, Evening, data_of

REFUSED = "This button doesn't work for you."
MORNING = PROMPTED + timedelta(hours=14, minutes=45)  # 09:15 in Lisbon


def summaries(person: Person) -> list[Message]:
    """The summaries in this person's chat, oldest first."""
    return [each for each in person.messages if "after class" in each.text]


async def test_it_comes_once_when_everyone_has_answered(evening: Evening) -> None:
    await evening.class_is_over()
    for name, effort in (("Ana", 7), ("Ben", 9), ("Cleo", 6)):
        assert summaries(evening.instructor) == []
        hurts = "pain" if name == "Ben" else "fine"
        await evening.answer_all(evening.members[name], c=effort, h=hurts)
        await evening.leap(evening.now + timedelta(minutes=1))
    (summary,) = summaries(evening.instructor)
    assert "7 in the middle" in summary.text
    assert "2 of 3 in range. 3 of 3 have answered." in summary.text
    assert "1 alert: Ben: pain" in summary.text
    for hours in (1, 14, 30):
        await evening.leap(PROMPTED + timedelta(hours=hours))
    assert summaries(evening.instructor) == [summary]
    for member in evening.members.values():
        assert summaries(member) == []


async def test_by_the_next_morning_it_comes_anyway_but_never_at_night(evening: Evening) -> None:
    await evening.class_is_over()
    await evening.answer_all(evening.members["Ana"], c=8)
    for hours in (1, 5, 11):
        await evening.leap(PROMPTED + timedelta(hours=hours))
        assert summaries(evening.instructor) == []
    await evening.leap(MORNING)
    (summary,) = summaries(evening.instructor)
    assert "1 of 3 have answered." in summary.text


async def test_nobody_has_said_anything_is_a_summary_too(evening: Evening) -> None:
    await evening.class_is_over()
    await evening.leap(MORNING)
    (summary,) = summaries(evening.instructor)
    assert "nobody has rated it. 0 of 3 have answered." in summary.text


OFF = DemandChange(movement="Side plank", variation="knees bent", written=0.6, believed=0.7)


@pytest.fixture
async def offered(evening: Evening, monkeypatch: pytest.MonkeyPatch) -> Message:
    """A summary that offers another demand."""
    monkeypatch.setattr("bot.schedule.summaries.changes_by_answers", lambda _: (OFF,))
    await evening.class_is_over()
    for member in evening.members.values():
        await evening.answer_all(member)
    await evening.leap(evening.now + timedelta(minutes=1))
    (summary,) = summaries(evening.instructor)
    return summary


def demand(evening: Evening) -> str:
    """How the plan of the group's next class has the easier side plank."""
    ((document,),) = evening.rows(
        """SELECT document FROM plan JOIN session ON session.plan_id = plan.id
        WHERE starts_at > ? ORDER BY starts_at LIMIT 1""",
        f"{evening.now:%Y-%m-%dT%H:%M:%SZ}",
    )
    text = str(document)
    return text[text.index('name = "knees bent"') :].splitlines()[1]


async def test_better_demands_hold_by_one_tap_and_are_put_back_by_another(
    evening: Evening, offered: Message
) -> None:
    ines = evening.instructor
    assert "Side plank, knees bent: 0.7 in place of 0.6" in offered.text
    apply = data_of(offered, ClassButton, what=AboutClass.APPLY)
    assert demand(evening) == "demand = 0.6"
    await refused(evening, apply)
    await evening.press(ines, apply, offered)
    assert demand(evening) == "demand = 0.7"
    (taken,) = summaries(ines)
    assert "hold from now on" in taken.text
    twice = ines.press_raw(taken.message_id, apply)
    await evening.settle()
    assert twice.answer is not None
    assert twice.answer.text == "This button is no longer in use."
    undo = data_of(taken, ClassButton, what=AboutClass.UNDO)
    await refused(evening, undo)
    await evening.press(ines, undo, taken)
    assert demand(evening) == "demand = 0.6"
    assert "are off" in summaries(ines)[0].text


async def test_the_other_instructor_sees_what_one_has_taken_up_and_may_undo_it(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.schedule.summaries.changes_by_answers", lambda _: (OFF,))
    ines, (olga,) = evening.instructor, await evening.join("Olga")
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT leading.group_id, person.id, since FROM leading, person
            WHERE person.name = 'Olga'"""
        )
    await evening.class_is_over()
    for member in evening.members.values():
        await evening.answer_all(member)
    await evening.leap(evening.now + timedelta(minutes=1))
    for first, second, what, said in (
        (ines, olga, AboutClass.APPLY, "hold from now on"),
        (olga, ines, AboutClass.UNDO, "are off"),
    ):
        (mine,) = summaries(first)
        await evening.press(first, data_of(mine, ClassButton, what=what), mine)
        assert [each.text for each in summaries(second)] == [summaries(first)[0].text]
        assert said in summaries(second)[0].text
    assert demand(evening) == "demand = 0.6"


async def test_a_plan_that_was_changed_since_is_not_put_back(
    evening: Evening, offered: Message
) -> None:
    ines = evening.instructor
    await evening.press(ines, data_of(offered, ClassButton, what=AboutClass.APPLY), offered)
    undo = data_of(summaries(ines)[0], ClassButton, what=AboutClass.UNDO)
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            "UPDATE training_group SET plan_id = (SELECT id FROM plan ORDER BY made_at LIMIT 1)"
        )
    press = await evening.press(ines, undo, summaries(ines)[0])
    assert press.answer is not None
    assert press.answer.text == "This button is no longer in use."


async def test_what_was_left_as_it_is_is_not_offered_again_next_week(
    evening: Evening, offered: Message
) -> None:
    await evening.class_is_over(1)
    for member in evening.members.values():
        await evening.answer_all(member)
    await evening.leap(evening.now + timedelta(minutes=1))
    assert len(summaries(evening.instructor)) == 2
    assert "in place of" in offered.text
    assert "in place of" not in summaries(evening.instructor)[1].text
    assert evening.now > PROMPTED + WEEK


async def refused(evening: Evening, data: str) -> None:
    """Neither a stranger nor a member gets anywhere with this, and nothing changes."""
    stranger = evening.api.person("Stranger")
    before = evening.dump()
    for person in (stranger, evening.members["Cleo"]):
        press = person.press_raw(1, data)
        await evening.settle()
        assert press.answer is not None
        assert press.answer.text == REFUSED
    assert evening.dump() == before
