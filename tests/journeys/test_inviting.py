"""A link for members, made once after a question; and their question, tried out."""

from bot.buttons.setup import InviteButton, TrialButton
from demo_script.stand_in import Message
from tests.journeys.evening import Evening, buttons, data_of, sent_to


async def test_a_new_link_is_made_once_after_a_question(evening: Evening) -> None:
    ines = evening.instructor
    asked = await evening.say(ines, "/invite")
    assert "stops working" in asked.text
    data = data_of(asked, InviteButton)
    await evening.press(ines, data, asked)
    again = ines.press_raw(asked.message_id, data)
    await evening.settle()
    assert again.answer is not None
    assert "no longer in use" in again.answer.text
    assert evening.rows("SELECT count(*) FROM invite WHERE revoked_at IS NULL") == [(1,)]
    stranger = evening.api.person("Stranger")
    forged = stranger.press_raw(1, data)
    await evening.settle()
    assert forged.answer is not None
    assert "no longer in use" in forged.answer.text


async def test_a_trial_looks_as_for_members_and_stores_nothing(evening: Evening) -> None:
    ines = evening.instructor
    (made,) = [each for each in ines.messages if "is ready" in each.text]
    before = evening.dump()
    await evening.press(ines, data_of(made, TrialButton), made)
    shown = ines.last_message
    assert "https://" in shown_now(evening, made).text, "the link stays where it is"
    for answer in (("c", "8"), ("e0", "unfinished"), ("d0", "15"), ("h", "pain"), ("w", "general")):
        question = shown_now(evening, shown)
        assert "A trial" in question.text
        wanted = answer[0], answer[1]
        data = next(
            each.write()
            for each in buttons(question)
            if isinstance(each, TrialButton)
            and each.said
            and (str(each.said[-1][0]), each.said[-1][1]) == wanted
        )
        await evening.press(ines, data, question)
    assert "Nothing of this trial was stored" in shown_now(evening, shown).text
    assert evening.dump() == before
    await evening.class_is_over()
    real = evening.members["Ana"].last_message
    assert "How hard was the whole class for you?" in real.text


def shown_now(evening: Evening, message: Message) -> Message:
    """The message as it stands in the chat now."""
    return next(
        each for each in evening.instructor.messages if each.message_id == message.message_id
    )


async def test_strangers_and_members_get_no_trial(evening: Evening) -> None:
    (made,) = [each for each in evening.instructor.messages if "is ready" in each.text]
    data = data_of(made, TrialButton)
    for person in (evening.members["Ana"], evening.api.person("Stranger")):
        since = len(evening.api.log)
        press = person.press_raw(1, data)
        await evening.settle()
        assert press.answer is not None
        assert "doesn't work for you" in press.answer.text
        assert sent_to(evening.api, person, since) == []
