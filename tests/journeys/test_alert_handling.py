"""What becomes of alerts: they come again, are cleared, and stand in the digest."""

from datetime import timedelta

import pytest

from bot.buttons import AlertsButton, ClassButton, DealButton, SeenButton, ThresholdButton
from bot.buttons.watching import AboutClass, Dealing
from core.thresholds import Threshold
from demo_script.stand_in import Message, Person
from tests.journeys.evening import (
    PROMPTED,
    STARTS,
    WEEK,
    Evening,
    button,
    buttons,
    data_of,
    sent_to,
)

DIGEST = STARTS - timedelta(minutes=60)
AGAIN = "Nobody has marked this as seen yet"
REFUSED = "This button doesn't work for you."


def holding(person: Person, text: str) -> list[Message]:
    """The messages in this person's chat that hold these words now."""
    return [each for each in person.messages if text in each.text]


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


async def first_class_at_the_maximum(evening: Evening) -> Message:
    """Ana's only class was maximal; the digest of the second class says so."""
    await evening.class_is_over()
    await evening.answer_all(evening.members["Ana"], c=10)
    for name in ("Ben", "Cleo"):
        await evening.answer_all(evening.members[name])
    await evening.leap(DIGEST + WEEK)
    return next(each for each in evening.instructor.messages if "expected" in each.text)


async def test_an_urgent_alert_comes_once_more_unless_it_was_seen(evening: Evening) -> None:
    await evening.class_is_over()
    ana, ben, ines = evening.members["Ana"], evening.members["Ben"], evening.instructor
    await evening.answer_all(ana, h="warning")
    await evening.answer_all(ben, h="pain")
    (of_ben,) = holding(ines, "Ben reported joint")
    await evening.press(ines, data_of(of_ben, SeenButton), of_ben)
    await evening.leap(PROMPTED + timedelta(minutes=29))
    assert holding(ines, AGAIN) == []
    for minutes in (31, 40, 90):
        await evening.leap(PROMPTED + timedelta(minutes=minutes))
        assert len(holding(ines, AGAIN)) == 1
    (again,) = holding(ines, AGAIN)
    assert "Ana reported a warning sign" in again.text
    await evening.press(ines, data_of(again, SeenButton), again)
    both = holding(ines, "Ana reported a warning sign")
    assert len(both) == 2
    for message in both:
        assert "Seen by Ines" in message.text
        assert not any(isinstance(each, SeenButton) for each in buttons(message))


async def test_the_rest_waits_for_the_digest_and_is_cleared_with_a_note(evening: Evening) -> None:
    digest = await first_class_at_the_maximum(evening)
    ines = evening.instructor
    assert "went to the maximum in their first class" in digest.text
    assert evening.rows("SELECT acknowledged_at FROM alert") == [(None,)]
    look = data_of(digest, AlertsButton)
    await refused(evening, look)
    await evening.press(ines, look, digest)
    page = ines.last_message
    assert "Many newcomers think that all-out is the aim" in page.text
    ask = data_of(page, DealButton, what=Dealing.ASK)
    await refused(evening, ask)
    await evening.press(ines, ask, page)
    noted = await evening.say(ines, "Told her <b>why</b>.")
    assert "Cleared by Ines." in noted.text
    assert "Note: Told her <b>why</b>." in noted.text
    await evening.say(ines, "/digest")
    (newest,) = [each for each in ines.messages if "expected" in each.text][-1:]
    assert "first class" not in newest.text
    undo = data_of(noted, DealButton, what=Dealing.UNDO)
    await refused(evening, undo)
    await evening.press(ines, undo, noted)
    await evening.say(ines, "/digest")
    (newest,) = [each for each in ines.messages if "expected" in each.text][-1:]
    assert "Seen, and still so: Ana: first class at the maximum" in newest.text


async def test_cancel_and_leave_ask_for_no_note_any_more(evening: Evening) -> None:
    digest = await first_class_at_the_maximum(evening)
    ines = evening.instructor
    await evening.press(ines, data_of(digest, AlertsButton), digest)
    page = ines.last_message
    for leave in ("/cancel", Dealing.LEAVE):
        await evening.press(ines, data_of(page, DealButton, what=Dealing.ASK), page)
        question = ines.last_message
        assert "What is your note?" in question.text
        if leave == "/cancel":
            await evening.say(ines, leave)
        else:
            await evening.press(ines, data_of(question, DealButton, what=Dealing.LEAVE), question)
        await evening.say(ines, "not a note")
        assert evening.rows("SELECT note, cleared_at FROM alert") == [(None, None)]
    await evening.press(ines, data_of(page, DealButton, what=Dealing.ASK), page)
    plain = data_of(ines.last_message, DealButton, what=Dealing.PLAIN)
    await refused(evening, plain)
    await evening.press(ines, plain)
    assert "Cleared by Ines." in ines.last_message.text


async def test_a_note_about_pain_clears_nothing(evening: Evening) -> None:
    await evening.class_is_over()
    await evening.answer_all(evening.members["Ana"], h="pain")
    ines = evening.instructor
    (alert,) = holding(ines, "Ana reported joint")
    await evening.press(ines, data_of(alert, DealButton, what=Dealing.ASK), alert)
    question = ines.last_message
    assert [e.what for e in buttons(question) if isinstance(e, DealButton)] == [Dealing.LEAVE]
    ines.press_raw(1, DealButton(button(alert, DealButton).id, Dealing.PLAIN).write())
    await evening.settle()
    assert evening.rows("SELECT cleared_at FROM alert") == [(None,)]
    await evening.press(ines, data_of(alert, DealButton, what=Dealing.ASK), alert)
    await evening.say(ines, "x" * 501)
    assert "nothing was stored" in ines.last_message.text
    await evening.say(ines, "left knee")
    assert "Note: left knee" in ines.last_message.text
    assert "Note: left knee" in holding(ines, "Ana reported joint")[0].text
    assert evening.rows("SELECT note, cleared_at FROM alert") == [("left knee", None)]


@pytest.mark.long
async def test_silence_is_told_in_the_third_digest_and_ends_with_an_answer(
    evening: Evening,
) -> None:
    ben, ines = evening.members["Ben"], evening.instructor
    quiet = "without an answer: Ben"
    for week in range(4):
        await evening.class_is_over(week)
        for name in ("Ana", "Cleo") if week else ("Ana", "Ben", "Cleo"):
            await evening.answer_all(evening.members[name])
        since = len(evening.api.log)
        await evening.leap(DIGEST + (week + 1) * WEEK)
        told = [text for text in sent_to(evening.api, ines, since) if quiet in text]
        assert bool(told) is (week == 3), week
    await evening.answer_all(ben)
    assert evening.rows("SELECT count(*) FROM alert WHERE resolved_at IS NULL") == [(0,)]


async def test_who_is_back_after_two_weeks_is_told_with_the_days(evening: Evening) -> None:
    ana, ines = evening.members["Ana"], evening.instructor
    for week in range(4):
        await evening.class_is_over(week)
        if week in (1, 2):
            await evening.answer(ana, "c", "absent")
        else:
            await evening.answer_all(ana)
    await evening.leap(DIGEST + 4 * WEEK)
    assert "Back after a break: Ana" in "".join(sent_to(evening.api, ines)[-3:])
    digest = holding(ines, "Back after a break: Ana")[-1]
    await evening.press(ines, data_of(digest, AlertsButton), digest)
    for _ in range(6):
        if "the first class after 21 days" in ines.last_message.text:
            break
        await evening.press(ines, data_of(ines.last_message, AlertsButton))
    assert "the first class after 21 days" in ines.last_message.text


@pytest.mark.parametrize(
    ("effort", "told"), [(9, "harder than planned"), (3, "easier than planned")]
)
async def test_three_classes_in_a_row_out_of_range_are_told(
    evening: Evening, effort: float, told: str
) -> None:
    for week in range(3):
        await evening.class_is_over(week)
        await evening.answer_all(evening.members["Ana"], c=effort)
    await evening.leap(DIGEST + 3 * WEEK)
    line = f"Several classes in a row {told}: Ana"
    assert len(holding(evening.instructor, line)) == 1


async def test_a_limit_is_explained_where_it_is_changed_and_counts_at_once(
    evening: Evening,
) -> None:
    ana, ines = evening.members["Ana"], evening.instructor
    for week in range(2):
        await evening.class_is_over(week)
        await evening.answer_all(ana, c=3)
    page = await evening.say(ines, "/limits")
    assert "Pain and warning signs always come at once" in page.text
    open_below = data_of(page, ThresholdButton, threshold=Threshold.BELOW)
    await refused(evening, open_below)
    await evening.press(ines, open_below, page)
    assert "more than a point under the target" in ines.last_message.text
    two = data_of(ines.last_message, ThresholdButton, threshold=Threshold.BELOW, value=2)
    await refused(evening, two)
    await evening.press(ines, two)
    assert evening.rows("SELECT kind FROM alert WHERE resolved_at IS NULL") == [("below range",)]
    never = data_of(ines.last_message, ThresholdButton, threshold=Threshold.BELOW, value=0)
    await evening.press(ines, never)
    assert evening.rows("SELECT kind FROM alert WHERE resolved_at IS NULL") == []
    for person in (ana, evening.api.person("Dora")):
        told = await evening.say(person, "/limits")
        assert not any(isinstance(each, ThresholdButton) for each in buttons(told))


async def test_the_page_to_print_comes_once_as_a_document(evening: Evening) -> None:
    await evening.leap(DIGEST)
    ines = evening.instructor
    digest = holding(ines, "expected")[-1]
    ask = data_of(digest, ClassButton, what=AboutClass.PRINT)
    await refused(evening, ask)
    await evening.press(ines, ask, digest)
    document = ines.last_message.attachment
    assert document is not None
    assert document.kind == "document"
    assert document.content.startswith(b"%PDF")
    assert "one page to print" in ines.last_message.text
