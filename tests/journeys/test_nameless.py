"""An account without a name, as those that are gone are shown: it is heard, too."""

from tests.journeys.evening import Evening


async def test_whoever_has_no_name_is_answered_and_joins_under_a_mark(evening: Evening) -> None:
    (nobody,) = await evening.join("")
    assert evening.rows("SELECT name FROM person WHERE account = ?", nobody.person_id) == [("?",)]
    await evening.class_is_over()
    await evening.answer_all(nobody)
    assert evening.answers(nobody)
