"""What was said long ago goes, apart from each member's last class and what isn't settled."""

from datetime import timedelta

from bot.buttons import ThresholdButton
from core.thresholds import Threshold
from demo_script.stand_in import Person
from tests.journeys.evening import STARTS, Evening, data_of

LONG_AFTER = STARTS + timedelta(days=25 * 31)  # more than two years of 12 months
ANSWERED = """
SELECT DISTINCT session.local_day FROM answer
JOIN prompt ON prompt.id = answer.prompt_id JOIN session ON session.id = prompt.session_id
JOIN person ON person.id = prompt.person_id WHERE person.account = ? ORDER BY 1
"""


def days(evening: Evening, person: Person) -> list[object]:
    """The days of the classes about which something is stored of them."""
    return [day for (day,) in evening.rows(ANSWERED, person.person_id)]


async def two_classes(evening: Evening) -> tuple[Person, Person]:
    """Both answer about the first class, in which Ben was sore; only Ana about the second."""
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.class_is_over()
    await evening.answer_all(ana)
    await evening.answer_all(ben, h="soreness")
    await evening.class_is_over(1)
    await evening.answer_all(ana)
    return ana, ben


async def test_after_two_years_only_the_last_class_of_each_is_left(evening: Evening) -> None:
    ana, ben = await two_classes(evening)
    first, second = days(evening, ana)
    await evening.leap(LONG_AFTER)
    assert days(evening, ana) == [second]
    assert days(evening, ben) == [first]
    assert evening.rows("SELECT kind FROM symptom") == []
    assert "Side plank" in (await evening.say(ana, "/variant")).text


async def test_before_that_nothing_goes(evening: Evening) -> None:
    ana, _ = await two_classes(evening)
    before = days(evening, ana)
    await evening.leap(STARTS + timedelta(days=720))
    assert days(evening, ana) == before
    assert evening.rows("SELECT kind FROM symptom") == [("soreness",)]


async def test_pain_that_is_not_cleared_is_never_too_old(evening: Evening) -> None:
    ben = evening.members["Ben"]
    await evening.class_is_over()
    await evening.answer_all(ben, h="pain")
    await evening.leap(LONG_AFTER)
    assert evening.rows("SELECT kind FROM symptom") == [("pain",)]
    assert evening.rows("SELECT count(*) FROM alert WHERE symptom_id IS NOT NULL") == [(1,)]


async def test_a_shorter_time_can_be_taken_back_within_a_week(evening: Evening) -> None:
    ines, (ana, _) = evening.instructor, await two_classes(evening)
    before = days(evening, ana)
    await evening.leap(STARTS + timedelta(days=300))
    limits = await evening.say(ines, "/limits")
    await evening.press(ines, data_of(limits, ThresholdButton, threshold=Threshold.KEPT))
    choices = ines.last_message
    assert ("✓ 24 months",) in choices.labels
    six = data_of(choices, ThresholdButton, threshold=Threshold.KEPT, value=6)
    await evening.press(ines, six)
    await evening.leap(evening.now + timedelta(days=6))
    assert days(evening, ana) == before
    await evening.leap(evening.now + timedelta(days=2))
    assert days(evening, ana) == before[1:]


async def test_a_longer_time_keeps_what_would_have_gone(evening: Evening) -> None:
    ines, (ana, _) = evening.instructor, await two_classes(evening)
    before = days(evening, ana)
    limits = await evening.say(ines, "/limits")
    await evening.press(ines, data_of(limits, ThresholdButton, threshold=Threshold.KEPT))
    sixty = data_of(ines.last_message, ThresholdButton, threshold=Threshold.KEPT, value=60)
    await evening.press(ines, sixty)
    await evening.leap(LONG_AFTER)
    assert days(evening, ana) == before
