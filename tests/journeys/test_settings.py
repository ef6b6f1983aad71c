"""Settings: one message, changed in place, and everything that follows from each choice."""

from datetime import timedelta

from bot.buttons import AnswerButton
from bot.buttons.personal import Setting, SettingButton
from core.questions import Question
from demo_script.stand_in import Message, Person
from tests.journeys.evening import ENDS, PROMPTED, Evening, button, buttons, sent_to

NOTHING_CHANGED = "This button doesn't work for you."


def setting(message: Message, which: Setting | None, value: str | None = None) -> str:
    """What the button for this setting carries, by the id that the others carry."""
    some = next(each for each in buttons(message) if isinstance(each, SettingButton))
    return SettingButton(some.id, which, value).write()


async def choose(evening: Evening, person: Person, which: Setting, value: str) -> Message:
    """Open the settings and choose a value, as a tap under the newest message."""
    message = await evening.say(person, "/settings")
    data = setting(message, which, value)
    if which is not Setting.REMINDER:
        await evening.press(person, setting(message, which), message)
    if value in ("on", "medicine") and which is Setting.HEART_RATE:
        await evening.press(person, setting(message, which, "ask"), message)
    await evening.press(person, data, person.last_message)
    assert person.last_message.message_id == message.message_id, "it changes in place"
    return person.last_message


def ratings(message: Message) -> list[str]:
    """The labels of the buttons that carry a rating."""
    return [
        each.label
        for row in message.buttons
        for each in row
        if (read := AnswerButton.read(each.data or "")) is not None and read.number is not None
    ]


async def test_every_page_leads_back_to_all_settings(evening: Evening) -> None:
    ana = evening.members["Ana"]
    first = await evening.say(ana, "/settings")
    for which in Setting:
        if which is Setting.REMINDER:
            continue
        await evening.press(ana, setting(first, which))
        assert ana.last_message.text != first.text
        assert len(buttons(ana.last_message)) >= 2
        await evening.press(ana, setting(first, None))
        assert (ana.last_message.text, ana.last_message.labels) == (first.text, first.labels)


async def test_strangers_and_other_members_cannot_use_somebodys_settings(evening: Evening) -> None:
    ana, ben, stranger = evening.members["Ana"], evening.members["Ben"], evening.api.person("Stu")
    await evening.say(stranger, "/settings")
    assert "invited" in stranger.last_message.text
    message = await evening.say(ana, "/settings")
    data = setting(message, Setting.SCALE, "6-20")
    for other in (ben, stranger):
        press = other.press_raw(message.message_id, data)
        await evening.settle()
        assert press.answer is not None
        assert press.answer.text == NOTHING_CHANGED
    assert evening.rows("SELECT DISTINCT scale FROM person") == [("0-10",)]


async def test_who_rates_from_6_to_20_sees_what_they_tapped_and_is_understood_on_our_scale(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    shown = await choose(evening, ana, Setting.SCALE, "6-20")
    assert any("6 to 20" in label for row in shown.labels for label in row)
    await evening.class_is_over()
    assert ratings(ana.last_message) == [str(number) for number in range(6, 21)]
    assert "15 hard" in ana.last_message.text
    await evening.press(ana, rated(ana.last_message, "c", 12))
    await evening.say(ana, "20")  # typed
    await evening.answer_all(ana)
    assert evening.answers(ana)["c"] == 3.0
    assert evening.answers(ana)["e0"] == 10.0
    assert "Whole class: 12" in ana.last_message.text
    assert "Side plank: 20" in ana.last_message.text
    said = await evening.say(ana, "/variant")
    assert "You rated 20" in said.text


async def test_a_switch_between_prompt_and_tap_changes_nothing_of_what_was_meant(
    evening: Evening,
) -> None:
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    await evening.class_is_over()
    prompt = ana.last_message
    await choose(evening, ana, Setting.SCALE, "6-20")
    await evening.say(ana, "8")  # what is on screen is 0 to 10
    assert evening.answers(ana)["c"] == 8.0
    await choose(evening, ben, Setting.SCALE, "6-20")
    await choose(evening, ben, Setting.SCALE, "0-10")
    await evening.say(ben, "15/20")
    assert evening.answers(ben)["c"] == 5.0
    # the next question came with the new numbers; the old message's buttons keep their meaning
    now = next(each for each in ana.messages if each.message_id == prompt.message_id)
    assert ratings(now)[0] == "6"
    await choose(evening, ana, Setting.SCALE, "0-10")
    await evening.press(ana, rated(now, "e0", 8), now)
    assert evening.answers(ana)["e0"] == 1.0


async def test_a_number_that_is_on_neither_scale_is_refused_with_the_right_one(
    evening: Evening,
) -> None:
    ana = evening.members["Ana"]
    await choose(evening, ana, Setting.SCALE, "6-20")
    await evening.class_is_over()
    assert "from 6 to 20" in (await evening.say(ana, "4")).text
    assert evening.answers(ana) == {}


async def test_heart_rates_are_shown_only_on_request_and_never_with_medicine(
    evening: Evening,
) -> None:
    ana, ben, cleo = (evening.members[name] for name in ("Ana", "Ben", "Cleo"))
    await choose(evening, ana, Setting.HEART_RATE, "on")
    told = await choose(evening, ben, Setting.HEART_RATE, "medicine")
    assert "don't fit" in told.text
    await evening.class_is_over()
    assert "5 about 150" in ana.last_message.text
    assert "approximation" in ana.last_message.text
    for other in (ben, cleo):
        assert "beats" not in other.last_message.text
    stored = evening.rows("SELECT count(*) FROM person WHERE heart_rate_since IS NOT NULL")
    assert stored == [(1,)]


async def test_each_is_asked_at_their_own_time_and_reminded_outside_their_quiet_hours(
    evening: Evening,
) -> None:
    ana, ben, cleo = (evening.members[name] for name in ("Ana", "Ben", "Cleo"))
    await choose(evening, ana, Setting.ASKED, "evening")
    await choose(evening, ben, Setting.ASKED, "morning")
    await choose(evening, cleo, Setting.REMINDER, "off")
    await evening.leap(PROMPTED)
    here = len(evening.api.log)
    assert "How hard" in cleo.last_message.text
    assert "How hard" not in ana.last_message.text + ben.last_message.text
    await evening.leap(ENDS + timedelta(minutes=40))  # 20:00 in Lisbon
    assert "How hard" in ana.last_message.text
    assert "How hard" not in ben.last_message.text
    await evening.leap(ENDS + timedelta(hours=13, minutes=40))  # 09:00
    assert "How hard" in ben.last_message.text
    for hours in range(14, 40):
        await evening.leap(ENDS + timedelta(hours=hours))
    assert len(sent_to(evening.api, cleo, here)) == 0, "she wants no reminder"
    assert len(sent_to(evening.api, ana, here)) == 2
    assert len(sent_to(evening.api, ben, here)) == 2


async def test_quiet_hours_put_a_reminder_off(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await choose(evening, ana, Setting.QUIET_UNTIL, str(11 * 60))
    await evening.class_is_over()
    here = len(evening.api.log)
    await evening.leap(PROMPTED + timedelta(hours=14))  # 09:30
    assert sent_to(evening.api, ana, here) == []
    await evening.leap(PROMPTED + timedelta(hours=15, minutes=30))
    assert len(sent_to(evening.api, ana, here)) == 1


async def test_a_chosen_language_stays_whatever_the_chat_says(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await choose(evening, ana, Setting.LANGUAGE, "en")
    ana.account.language = "de"
    await evening.say(ana, "/help")
    stored = evening.rows("SELECT chosen_language, language FROM person WHERE name = 'Ana'")
    assert stored == [("en", "de")]
    await choose(evening, ana, Setting.LANGUAGE, "auto")
    assert evening.rows("SELECT chosen_language FROM person WHERE name = 'Ana'") == [(None,)]


async def test_a_double_tap_sets_it_once(evening: Evening) -> None:
    ana = evening.members["Ana"]
    message = await evening.say(ana, "/settings")
    data = setting(message, Setting.REMINDER, "off")
    presses = [ana.press_raw(message.message_id, data) for _ in range(2)]
    await evening.settle()
    assert all(press.answer is not None for press in presses)
    assert evening.rows("SELECT count(*) FROM person WHERE no_reminder_since IS NOT NULL") == [(1,)]


def rated(message: Message, question: str, number: int) -> str:
    """What the button with this rating from 6 to 20 carries, under a question of that prompt."""
    prompt = button(message, AnswerButton, word="skipped").prompt
    asked = Question.read(question)
    assert asked is not None
    return AnswerButton.twenty(prompt, asked, number).write()
