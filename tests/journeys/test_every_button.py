"""Every button that a member can reach from the first prompt: none is a dead end."""

from collections import Counter

import pytest

from bot.buttons import AnswerButton, ShowButton, View
from demo_script.stand_in import Message, Person
from tests.journeys.evening import Evening, asked, buttons, data_of, is_summary

PRESSES = 70
MOST_PRESSES = 250
SCREENS = {"c", "e0", "d0", "h", "w", "summary", "changing"}
"""What must have been seen, however long it takes."""


def place(message: Message) -> str:
    """What this screen is, whatever was answered before: its question, or its buttons' kinds."""
    question = asked(message)
    if question is not None:
        return str(question)
    return "summary" if is_summary(message) else "changing"


def ways(message: Message) -> list[str]:
    """What to try here: all words, all ways, and numbers from both ends and the middle."""
    shown = buttons(message)
    numbers = [each for each in shown if isinstance(each, AnswerButton) and each.word is None]
    others = [each for each in shown if each not in numbers]
    some = {each.write() for each in (*numbers[:1], *numbers[len(numbers) // 2 :][:1])}
    some |= {each.write() for each in numbers[-1:]}
    return sorted({*some, *(each.write() for each in others)})


@pytest.mark.long
async def test_every_press_is_answered_and_leads_on(evening: Evening) -> None:
    """A long walk that always takes the way least trodden on the screen where it is."""
    await evening.class_is_over()
    ana = evening.members["Ana"]
    trodden: Counter[tuple[str, str]] = Counter()
    for press in range(MOST_PRESSES):
        if press >= PRESSES and {where for where, _ in trodden} >= SCREENS:
            break
        message = ana.last_message
        assert ways(message), f"a dead end: {message.text!r}"
        _, data = min((trodden[place(message), each], each) for each in ways(message))
        trodden[place(message), data] += 1
        await evening.press(ana, data)
    assert {where for where, _ in trodden} >= SCREENS
    await leave_the_list(evening, ana)
    await evening.answer_all(ana)
    assert is_summary(ana.last_message)


async def leave_the_list(evening: Evening, person: Person) -> None:
    """If the walk has ended among the answers to change, say that none has to be."""
    if place(person.last_message) == "changing":
        data = data_of(person.last_message, ShowButton, view=View.SUMMARY)
        await evening.press(person, data)
