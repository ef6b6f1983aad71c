"""Something hurts, outside of any question: told at once, frozen, and cleared by both sides."""

from bot.buttons import ClearButton, WellAgainButton
from bot.buttons.personal import HurtButton
from core.reports import SymptomKind
from demo_script.stand_in import Message, Person
from tests.journeys.evening import Evening, buttons, data_of
from tests.journeys.plans import plan_text

GET_HELP = "Stop, and get medical help."


async def report(
    evening: Evening, person: Person, kind: SymptomKind, movement: str | None = None
) -> Message:
    """Say what hurts, and where; `movement` None is none of them."""
    await evening.say(person, "/hurt")
    await evening.press(person, data_of(person.last_message, HurtButton, symptom=kind, group=None))
    if kind is not SymptomKind.WARNING:
        await evening.press(person, movement or "Not one of them")
    return person.last_message


def alerts(evening: Evening) -> list[Message]:
    """The alerts that the instructor sees."""
    return [each for each in evening.instructor.messages if "❗" in each.text or "‼" in each.text]


async def test_pain_is_told_at_once_and_the_place_is_added_to_the_same_alert(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/hurt")
    message = ana.last_message
    await evening.press(ana, "Joint or sharp pain", message)
    (told,) = alerts(evening)
    assert "Ana reported joint or sharp pain" in told.text
    await evening.press(ana, "Side plank", message)
    (told,) = alerts(evening)
    assert "Side plank" in told.text
    assert "licensed professional" in ana.last_message.text
    assert ana.last_message.message_id == message.message_id
    assert evening.rows("SELECT kind, movement FROM symptom") == [("pain", "Side plank")]
    assert "no harder until you and your instructor" in (await evening.say(ana, "/variant")).text


async def test_a_warning_sign_is_answered_on_the_spot_with_advice_that_stays(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/hurt")
    press = await evening.press(ana, "A warning sign")
    assert press.answer is not None
    assert press.answer.text.startswith(GET_HELP)
    assert press.answer.show_alert
    assert GET_HELP in ana.last_message.text
    assert "emergency" in ana.last_message.text
    (told,) = alerts(evening)
    assert "warning sign" in told.text


async def test_sore_muscles_alarm_nobody_and_freeze_nothing(evening: Evening) -> None:
    ana = evening.members["Ana"]
    said = await report(evening, ana, SymptomKind.SORENESS, "Push-up")
    assert "usual" in said.text
    assert said.buttons == ()
    assert alerts(evening) == []
    assert "clear it" not in (await evening.say(ana, "/variant")).text


async def test_several_symptoms_are_open_at_once_and_each_takes_both_sides(
    evening: Evening,
) -> None:
    ana, ines = evening.members["Ana"], evening.instructor
    await report(evening, ana, SymptomKind.PAIN, "Side plank")
    await report(evening, ana, SymptomKind.PAIN, "Push-up")
    assert len(alerts(evening)) == 2
    said = await evening.say(ana, "/hurt")
    held = [each for each in buttons(said) if isinstance(each, WellAgainButton)]
    assert len(held) == 2
    await evening.press(ana, held[0].write(), said)
    asked = ines.last_message
    assert "Side plank is fine again" in asked.text
    still = (await evening.say(ana, "/variant")).text
    assert still.count("no harder until you and your instructor") == 2
    await evening.press(ines, data_of(asked, ClearButton), asked)
    assert "has cleared Side plank too" in ana.last_message.text
    freed = (await evening.say(ana, "/variant")).text
    assert freed.count("no harder until you and your instructor") == 1
    # the other way round: the instructor first, then one question to the member
    other = next(each for each in alerts(evening) if "Push-up" in each.text)
    await evening.press(ines, data_of(other, ClearButton), other)
    question = ana.last_message
    assert "Does it feel fine again?" in question.text
    await evening.press(ana, data_of(question, WellAgainButton), question)
    assert "clear it" not in (await evening.say(ana, "/variant")).text
    assert all("no longer holds" in each.text for each in alerts(evening))


async def test_a_member_of_two_groups_says_which_but_a_warning_sign_is_for_all(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    await evening.upload(plan_text("Second group"))
    ana.open_link(evening.link)
    await evening.settle()
    await evening.press(ana, "I agree, let me join")
    await evening.say(ana, "/hurt")
    await evening.press(ana, "Joint or sharp pain")
    assert evening.rows("SELECT count(*) FROM symptom") == [(0,)]
    await evening.press(ana, "Second group")
    await evening.press(ana, "Push-up")
    group = evening.rows(
        "SELECT name, movement FROM symptom JOIN training_group AS g ON g.id = group_id"
    )
    assert group == [("Second group", "Push-up")]
    await report(evening, ana, SymptomKind.WARNING)
    assert evening.rows("SELECT count(*) FROM symptom WHERE kind = 'warning'") == [(2,)]


async def test_strangers_and_other_members_report_nothing_for_somebody_else(
    evening: Evening,
) -> None:
    ana, ben, stranger = evening.members["Ana"], evening.members["Ben"], evening.api.person("Stu")
    assert "emergency number" in (await evening.say(stranger, "/hurt")).text
    message = await evening.say(ana, "/hurt")
    data = data_of(message, HurtButton, symptom=SymptomKind.WARNING)
    for other in (ben, stranger):
        press = other.press_raw(message.message_id, data)
        await evening.settle()
        assert press.answer is not None
        assert press.answer.text == "This button doesn't work for you."
    assert evening.rows("SELECT count(*) FROM symptom") == [(0,)]


async def test_double_taps_report_once_and_an_old_button_asks_anew(evening: Evening) -> None:
    ana = evening.members["Ana"]
    old = await evening.say(ana, "/hurt")
    new = await evening.say(ana, "/hurt")
    ana.press_raw(old.message_id, data_of(old, HurtButton, symptom=SymptomKind.PAIN))
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM symptom") == [(0,)]
    asked = next(each for each in ana.messages if each.message_id == old.message_id)
    assert "What hurts" in asked.text
    pain = data_of(asked, HurtButton, symptom=SymptomKind.PAIN)
    for _ in range(2):
        ana.press_raw(asked.message_id, pain)
    await evening.settle()
    assert evening.rows("SELECT count(*) FROM symptom") == [(1,)]
    assert len(alerts(evening)) == 1
    # a warning sign counts however old the button is
    ana.press_raw(new.message_id, data_of(new, HurtButton, symptom=SymptomKind.WARNING))
    await evening.settle()
    assert len(alerts(evening)) == 2


async def test_cancel_leaves_what_was_reported_as_it_is(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/hurt")
    await evening.press(ana, "Joint or sharp pain")
    await evening.say(ana, "/cancel")
    assert evening.rows("SELECT kind, movement FROM symptom") == [("pain", None)]
    assert len(alerts(evening)) == 1
