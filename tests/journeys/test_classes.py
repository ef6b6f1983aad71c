"""Single classes cancelled, moved and added in chat, with everybody who expects one."""

from datetime import datetime, timedelta

import pytest

from bot.buttons import AnswerButton, ClassesButton, Deed, SessionButton
from bot.buttons.timetable import MOVING
from demo_script.stand_in import Message, Person
from tests.journeys.evening import (
    PROMPTED,
    STARTS,
    WEEK,
    Evening,
    asked,
    button,
    buttons,
    data_of,
    is_summary,
    sent_to,
)
from tests.journeys.plans import plan_text

HOUR, DAY = timedelta(hours=1), timedelta(days=1)
QUESTION = "How hard was the whole class"
FIRST, NEXT = STARTS, STARTS + WEEK


async def open_class(evening: Evening, at: datetime = FIRST, by: Person | None = None) -> Message:
    """An instructor asks for the classes and taps the one that begins then."""
    person = by or evening.instructor
    listed = await evening.say(person, "/classes")
    await evening.press(person, data_of(listed, SessionButton, at=at))
    return person.last_message


async def do(evening: Evening, *deeds: Deed, at: datetime = FIRST) -> Message:
    """The instructor opens a class and presses these buttons, one after the other."""
    said = await open_class(evening, at)
    for deed in deeds:
        await evening.press(evening.instructor, data_of(said, SessionButton, deed=deed), said)
        said = evening.instructor.last_message
    return said


async def move_to(evening: Evening, to: datetime, at: datetime = FIRST) -> Message:
    """The instructor moves a class to one of the offered times."""
    said = await do(evening, Deed.MOVE, at=at)
    for deed in (Deed.MOVE_TO, Deed.MOVED):
        await evening.press(evening.instructor, data_of(said, SessionButton, deed=deed, to=to))
        said = evening.instructor.last_message
    return said


async def second_instructor(evening: Evening) -> Person:
    """Somebody who leads the group as well."""
    other = evening.api.person("Otis")
    other.press_start()
    await evening.settle()
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO person (id, account, name, language, met_at)
            VALUES ('otisotisotis', :account, 'Otis', 'en', '2026-08-31T12:00:00Z')""",
            account=other.person_id,
        )
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT id, 'otisotisotis', made_at FROM training_group"""
        )
    return other


async def press_old(evening: Evening, person: Person, data: str) -> str:
    """Press a button that stands under no message any more, or never did; the answer to it."""
    press = person.press_raw(1, data)
    await evening.settle()
    assert press.answer is not None
    return press.answer.text


def stored(evening: Evening) -> list[tuple[object, ...]]:
    """Starts of the first classes, and whether each is off."""
    return evening.rows(
        "SELECT starts_at, cancelled_at IS NOT NULL FROM session ORDER BY starts_at LIMIT 3"
    )


def prompts(evening: Evening, person: Person) -> int:
    """How often somebody was asked."""
    return sum(QUESTION in text for text in sent_to(evening.api, person))


# --- cancelling ------------------------------------------------------------------------------


async def test_a_class_is_cancelled_after_one_question_and_nobody_hears_of_it_any_more(
    evening: Evening,
) -> None:
    asking = await do(evening, Deed.CANCEL)
    assert "Should the class of Harbour Hall strength on Thu 3 Sept, 18:30" in asking.text
    assert stored(evening)[0] == ("2026-09-03T17:30:00Z", 0)
    await evening.press(evening.instructor, data_of(asking, SessionButton, deed=Deed.CANCELLED))
    assert "Cancelled: the class" in evening.instructor.last_message.text
    since = len(evening.api.log)
    await evening.leap(STARTS - HOUR)
    await evening.leap(PROMPTED)
    assert [each.text for each in evening.api.log[since:] if each.direction == "out"] == []
    ana = evening.members["Ana"]
    assert "10 Sept" in (await evening.say(ana, "/variant")).text
    await evening.class_is_over(week=1)
    assert prompts(evening, ana) == 1
    quiet = await evening.say(evening.instructor, "/digest")
    assert "No answer last time: Ana" not in quiet.text


async def test_a_class_that_is_kept_stays(evening: Evening) -> None:
    before = evening.dump()
    asking = await do(evening, Deed.CANCEL)
    await evening.press(evening.instructor, data_of(asking, SessionButton, deed=Deed.SHOW))
    assert evening.dump() == before


async def test_undoing_lets_the_class_take_place_with_all_that_is_due(evening: Evening) -> None:
    before = evening.dump("calendar")
    said = await do(evening, Deed.CANCEL, Deed.CANCELLED)
    await evening.press(evening.instructor, data_of(said, SessionButton, deed=Deed.RESTORE))
    assert "takes place after all" in evening.instructor.last_message.text
    assert evening.dump("calendar") == before
    await evening.leap(STARTS - HOUR)
    await evening.leap(PROMPTED)
    assert prompts(evening, evening.members["Ana"]) == 1


async def test_two_taps_at_once_cancel_once_and_tell_once(evening: Evening) -> None:
    other = await second_instructor(evening)
    asking = await do(evening, Deed.CANCEL)
    data = data_of(asking, SessionButton, deed=Deed.CANCELLED)
    evening.instructor.press(asking, data)
    evening.instructor.press(asking, data)
    await evening.settle()
    assert stored(evening)[0][1] == 1
    told = [text for text in sent_to(evening.api, other) if "has cancelled" in text]
    assert told == ["Ines has cancelled the class of Harbour Hall strength on Thu 3 Sept, 18:30."]


async def test_the_class_before_may_be_answered_for_longer_when_the_next_is_cancelled(
    stage: Evening,
) -> None:
    """Daily classes: a prompt lives until the next class; that one is off, so it lives on."""
    await stage.found(plan_text(rrule="FREQ=DAILY"))
    (ana,) = await stage.join("Ana")
    await stage.leap(STARTS - HOUR)
    await stage.leap(PROMPTED)
    await do(stage, Deed.CANCEL, Deed.CANCELLED, at=STARTS + DAY)
    ((until,),) = stage.rows(
        """SELECT not_after FROM due JOIN session ON session.id = session_id
        WHERE kind = 'reminder' AND starts_at = '2026-09-03T17:30:00Z'"""
    )
    assert until == "2026-09-05T17:30:00Z"
    await stage.leap(STARTS + DAY + HOUR)
    await stage.answer(ana, "c", 6)
    assert stage.answers(ana) == {"c": 6.0}


# --- it was cancelled: an open prompt ----------------------------------------------------------


async def test_a_class_that_did_not_take_place_closes_its_questions_politely(
    evening: Evening,
) -> None:
    ana, ben, cleo = (evening.members[name] for name in ("Ana", "Ben", "Cleo"))
    await evening.class_is_over()
    seven = data_of(ana.last_message, AnswerButton, number=7.0)
    await evening.answer(ben, "c", 9)
    await evening.answer_all(cleo, c=5)
    asking = await do(evening, Deed.CANCEL)
    assert "Did the class" in asking.text
    assert "not take place" in asking.text
    await evening.press(evening.instructor, data_of(asking, SessionButton, deed=Deed.CANCELLED))
    for person in (ana, ben, cleo):
        assert "this class didn't take place" in person.last_message.text
        assert buttons(person.last_message) == []
    assert await press_old(evening, ana, seven) == "This question is closed."
    assert evening.rows("SELECT count(*) FROM answer WHERE number = 7 AND question = 'c'") == [(0,)]
    assert "no open question" in (await evening.say(ana, "7")).text
    since = len(evening.api.log)
    await evening.leap(PROMPTED + 14 * HOUR)
    assert [each.text for each in evening.api.log[since:] if each.direction == "out"] == []
    assert "of 3 in range" not in (await evening.say(evening.instructor, "/digest")).text


async def test_it_was_held_after_all_and_the_questions_are_back_with_what_was_said(
    evening: Evening,
) -> None:
    ana, ben, cleo = (evening.members[name] for name in ("Ana", "Ben", "Cleo"))
    await evening.class_is_over()
    await evening.answer(ben, "c", 9)
    await evening.answer_all(cleo, c=5)
    answers = evening.rows("SELECT * FROM answer ORDER BY prompt_id, question")
    said = await do(evening, Deed.CANCEL, Deed.CANCELLED)
    await evening.press(evening.instructor, data_of(said, SessionButton, deed=Deed.RESTORE))
    assert "was held" in evening.instructor.last_message.text
    assert evening.rows("SELECT * FROM answer ORDER BY prompt_id, question") == answers
    assert str(asked(ana.last_message)) == "c"
    assert str(asked(ben.last_message)) == "e0"
    assert is_summary(cleo.last_message)
    await evening.answer(ana, "c", 4)
    assert evening.answers(ana) == {"c": 4.0}


async def test_who_would_be_asked_in_the_evening_is_not_asked_about_a_cancelled_class(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            "UPDATE person SET asked = 'morning' WHERE account = :account", account=ana.person_id
        )
    await evening.class_is_over()
    await do(evening, Deed.CANCEL, Deed.CANCELLED)
    await evening.leap(PROMPTED + 14 * HOUR)
    assert prompts(evening, ana) == 0


async def test_after_two_days_nothing_is_done_about_a_class_any_more(evening: Evening) -> None:
    await evening.class_is_over()
    asking = await do(evening, Deed.CANCEL)
    await evening.leap(PROMPTED + 3 * DAY)
    before = evening.dump()
    data = data_of(asking, SessionButton, deed=Deed.CANCELLED)
    assert await press_old(evening, evening.instructor, data) == "This question is closed."
    assert evening.dump() == before


# --- moving ----------------------------------------------------------------------------------


async def test_a_class_moves_by_taps_and_takes_everything_along(evening: Evening) -> None:
    ana = evening.members["Ana"]
    said = await move_to(evening, STARTS + DAY)
    assert "is on Fri 4 Sept, 18:30 now, instead of Thu 3 Sept, 18:30" in said.text
    assert "4 Sept" in (await evening.say(ana, "/variant")).text
    await evening.leap(PROMPTED)
    assert prompts(evening, ana) == 0
    await evening.leap(STARTS + DAY - HOUR)
    assert "Side plank" in evening.instructor.last_message.text
    await evening.leap(PROMPTED + DAY)
    assert prompts(evening, ana) == 1
    assert "4 Sept" in ana.last_message.text


async def test_a_class_moves_by_typing_and_asks_once(evening: Evening) -> None:
    await do(evening, Deed.MOVE)
    asking = await evening.say(evening.instructor, "Sat 10:00")
    assert "be on Sat 5 Sept, 10:00 instead?" in asking.text
    await evening.press(evening.instructor, data_of(asking, SessionButton, deed=Deed.MOVED))
    assert stored(evening)[0] == ("2026-09-05T09:00:00Z", 0)
    nothing = await evening.say(evening.instructor, "Sun 10:00")
    assert "no open question" in nothing.text


async def test_undoing_puts_it_back_where_the_timetable_has_it(evening: Evening) -> None:
    before = evening.dump()
    said = await move_to(evening, STARTS + HOUR)
    await evening.press(evening.instructor, data_of(said, SessionButton, deed=Deed.MOVED))
    assert evening.dump() == before


async def test_the_digest_comes_again_for_a_class_that_moved_after_it(evening: Evening) -> None:
    await evening.leap(STARTS - HOUR)
    other = await second_instructor(evening)
    digests = [text for text in sent_to(evening.api, evening.instructor) if "Side plank" in text]
    said = await do(evening, Deed.MOVE)
    await evening.press(
        evening.instructor,
        data_of(said, SessionButton, deed=Deed.MOVE_TO, to=STARTS + DAY),
    )
    asking = evening.instructor.last_message
    assert "Its digest has gone out already" in asking.text
    await evening.press(evening.instructor, data_of(asking, SessionButton, deed=Deed.MOVED))
    assert other.last_message.text == (
        "Ines has moved the class of Harbour Hall strength from Thu 3 Sept, 18:30 to "
        "Fri 4 Sept, 18:30."
    )
    assert evening.rows("SELECT count(*) FROM advice") == [(0,)]
    await evening.leap(STARTS + DAY - HOUR)
    again = [text for text in sent_to(evening.api, evening.instructor) if "Side plank" in text]
    assert len(again) > len(digests)
    assert "4 Sept" in again[-1]


async def test_what_was_called_out_still_holds_for_a_class_that_moves_by_little(
    evening: Evening,
) -> None:
    await evening.leap(STARTS - HOUR)
    frozen = evening.rows("SELECT * FROM advice ORDER BY person_id")
    await do(evening, Deed.MOVE)
    asking = await evening.say(evening.instructor, "18:45")
    await evening.press(evening.instructor, data_of(asking, SessionButton, deed=Deed.MOVED))
    assert evening.rows("SELECT * FROM advice ORDER BY person_id") == frozen
    since = len(evening.api.log)
    await evening.leap(STARTS)
    assert "Side plank" not in " ".join(sent_to(evening.api, evening.instructor, since))
    await evening.leap(PROMPTED + timedelta(minutes=15))
    assert prompts(evening, evening.members["Ana"]) == 1


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("2026-08-30 18:30", "That moment is past"),
        ("2028-01-01 18:30", "more than a year ahead"),
        ("10/9 18:00", "has a class on Thu 10 Sept, 18:30 already"),
        ("10/9 19:10", "has a class on Thu 10 Sept, 18:30 already"),
        ("some day soon", "couldn't read that as a day and a time"),
    ],
)
async def test_where_no_class_can_be_it_does_not_go(
    evening: Evening, typed: str, answer: str
) -> None:
    await do(evening, Deed.MOVE)
    before = evening.dump()
    assert answer in (await evening.say(evening.instructor, typed)).text
    assert evening.dump() == before
    asking = await evening.say(evening.instructor, "10/9 17:00")
    assert "instead?" in asking.text, "it may be typed once more"


async def test_a_class_keeps_its_time_on_the_wall_across_the_clock_change(
    stage: Evening,
) -> None:
    """Lisbon leaves summer time in the night before Sunday 25 October 2026."""
    await stage.leap(datetime.fromisoformat("2026-10-22T12:00:00+00:00"))
    starts = "2026-10-24T18:30:00"
    await stage.found(plan_text(starts=starts, rrule="FREQ=WEEKLY"))
    saturday = datetime.fromisoformat("2026-10-24T17:30:00+00:00")
    sunday = saturday + DAY + HOUR
    said = await move_to(stage, sunday, at=saturday)
    assert "Sun 25 Oct, 18:30" in said.text
    assert stage.rows(
        """SELECT kind, at FROM due JOIN session ON session.id = session_id
        WHERE starts_at = '2026-10-25T18:30:00Z' AND kind <> 'reminder' ORDER BY kind"""
    ) == [("digest", "2026-10-25T17:30:00Z"), ("prompt", "2026-10-25T19:30:00Z")]


async def test_a_class_that_has_begun_is_not_moved(evening: Evening) -> None:
    said = await do(evening, Deed.MOVE)
    to = button(said, SessionButton, deed=Deed.MOVE_TO, to=STARTS + DAY).write()
    await evening.leap(STARTS + timedelta(minutes=5))
    before = evening.dump()
    await evening.press(evening.instructor, to, said)
    assert "has begun already" in evening.instructor.last_message.text
    assert evening.dump() == before


async def test_an_old_button_does_nothing_to_a_class_that_is_elsewhere_by_now(
    evening: Evening,
) -> None:
    old = await do(evening, Deed.MOVE)
    to = data_of(old, SessionButton, deed=Deed.MOVE_TO, to=STARTS + HOUR)
    cancel = SessionButton(
        button(old, SessionButton, deed=Deed.SHOW).session, STARTS, Deed.CANCELLED
    )
    await move_to(evening, STARTS + DAY)
    before = evening.dump()
    for data in (to, cancel.write()):
        said = await press_old(evening, evening.instructor, data)
        assert said == "This button is no longer in use."
    assert evening.dump() == before


async def test_the_timetable_leaves_a_moved_class_where_it_is_and_gives_it_the_new_plan(
    evening: Evening,
) -> None:
    await move_to(evening, STARTS + DAY)
    for _ in range(2):
        await evening.leap(evening.now + DAY)
    assert stored(evening)[0] == ("2026-09-04T17:30:00Z", 0)
    assert stored(evening)[1] == ("2026-09-10T17:30:00Z", 0)


# --- adding ----------------------------------------------------------------------------------


async def test_an_extra_class_is_added_by_tap_and_taken_back(evening: Evening) -> None:
    listed = await evening.say(evening.instructor, "/classes")
    await evening.press(evening.instructor, data_of(listed, ClassesButton, adds=True))
    offered = evening.instructor.last_message
    data = data_of(offered, ClassesButton, adds=True, at=STARTS - DAY)
    await evening.press(evening.instructor, data, offered)
    said = evening.instructor.last_message
    assert "Added: a class of Harbour Hall strength on Wed 2 Sept, 18:30." in said.text
    await press_old(evening, evening.instructor, data)
    assert evening.rows("SELECT count(*) FROM session WHERE slot LIKE '+%'") == [(1,)]
    await evening.press(evening.instructor, data_of(said, SessionButton, deed=Deed.CANCELLED))
    listed = await evening.say(evening.instructor, "/classes")
    assert all(
        each.at != STARTS - DAY for each in buttons(listed) if isinstance(each, SessionButton)
    )


async def test_an_extra_class_is_asked_about_like_any_other(evening: Evening) -> None:
    ana = evening.members["Ana"]
    listed = await evening.say(evening.instructor, "/classes")
    await evening.press(evening.instructor, data_of(listed, ClassesButton, adds=True))
    said = await evening.say(evening.instructor, "Wed 10:00")
    assert "Wed 2 Sept, 10:00" in said.text
    assert "2 Sept" in (await evening.say(ana, "/variant")).text
    await evening.leap(datetime.fromisoformat("2026-09-02T08:00:00+00:00"))
    assert "Side plank" in evening.instructor.last_message.text
    await evening.leap(datetime.fromisoformat("2026-09-02T10:00:00+00:00"))
    assert prompts(evening, ana) == 1
    await evening.answer(ana, "c", 6)
    await evening.leap(evening.now + DAY - HOUR)
    assert evening.rows("SELECT count(*) FROM session WHERE slot LIKE '+%'") == [(1,)]


async def test_two_classes_cannot_be_at_once(evening: Evening) -> None:
    listed = await evening.say(evening.instructor, "/classes")
    await evening.press(evening.instructor, data_of(listed, ClassesButton, adds=True))
    before = evening.dump()
    assert "already" in (await evening.say(evening.instructor, "Thu 19:00")).text
    assert "past" in (await evening.say(evening.instructor, "2026-08-31 10:00")).text
    assert evening.dump() == before


async def test_cancel_forgets_that_a_time_was_to_be_typed(evening: Evening) -> None:
    await do(evening, Deed.MOVE)
    assert "dropped that question" in (await evening.say(evening.instructor, "/cancel")).text
    assert "no open question" in (await evening.say(evening.instructor, "Sat 10:00")).text


# --- who ---------------------------------------------------------------------------------------


async def test_members_are_told_when_that_is_wanted_and_once(evening: Evening) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    said = await move_to(evening, STARTS + DAY)
    assert "instead" not in ana.last_message.text
    tell = data_of(said, SessionButton, deed=Deed.TELL)
    await evening.press(evening.instructor, tell, said)
    news = "Harbour Hall strength: the class of Thu 3 Sept, 18:30 is on Fri 4 Sept, 18:30 instead."
    assert (ana.last_message.text, ben.last_message.text) == (news, news)
    assert "I've told 3 members." in evening.instructor.last_message.text
    again = await evening.press(evening.instructor, tell, said)
    assert again.answer is not None
    assert again.answer.text == "The members know that already."
    assert sent_to(evening.api, ana).count(news) == 1


async def test_strangers_members_and_instructors_of_other_groups_change_nothing(
    evening: Evening,
) -> None:
    said = await do(evening, Deed.MOVE)
    listed = await evening.say(evening.instructor, "/classes")
    session = button(said, SessionButton, deed=Deed.SHOW).session
    group = button(listed, ClassesButton, adds=True).group
    presses = [
        *(SessionButton(session, STARTS, deed).write() for deed in Deed if deed not in MOVING),
        SessionButton(session, STARTS, Deed.MOVE_TO, STARTS + DAY).write(),
        SessionButton(session, STARTS, Deed.MOVED, STARTS + DAY).write(),
        ClassesButton(group).write(),
        ClassesButton(group, adds=True).write(),
        ClassesButton(group, adds=True, at=STARTS + DAY).write(),
        ClassesButton("a" * 12).write(),
        SessionButton("a" * 12, STARTS).write(),
    ]
    stranger, ana = evening.api.person("Stranger"), evening.members["Ana"]
    stranger.press_start()
    await evening.upload(plan_text("Tide Room yoga"))
    await evening.settle()
    other = evening.members["Cleo"]
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE training_group.name = 'Tide Room yoga' AND account = :account""",
            account=other.person_id,
        )
    before = evening.dump()
    for person in (stranger, ana, other):
        for data in presses:
            assert await press_old(evening, person, data) == "This button doesn't work for you."
    assert evening.dump() == before
    assert "don't lead a group" in (await evening.say(ana, "/classes")).text
    assert "Tide Room yoga" in (await evening.say(other, "/classes")).text


async def test_pages_lead_through_twelve_weeks_and_an_old_one_shows_what_there_is(
    evening: Evening,
) -> None:
    listed = await evening.say(evening.instructor, "/classes")
    seen = [each.at for each in buttons(listed) if isinstance(each, SessionButton)]
    await evening.press(evening.instructor, data_of(listed, ClassesButton, page=1, adds=False))
    second = evening.instructor.last_message
    seen += [each.at for each in buttons(second) if isinstance(each, SessionButton)]
    assert len(seen) == 12
    assert seen == sorted(seen)
    far = ClassesButton(button(second, ClassesButton, adds=True).group, 99).write()
    await press_old(evening, evening.instructor, far)
    assert buttons(evening.instructor.last_message) == buttons(second)
