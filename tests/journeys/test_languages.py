"""People are spoken to, and understood, in the language of their chat or of their choice."""

import pytest

from bot.buttons.personal import Setting, SettingButton
from tests.journeys.evening import Evening, data_of


async def stopped_early(evening: Evening, language: str) -> str:
    """A member of that language has said that they stopped early; their name."""
    (person,) = await evening.join("Dana", language=language)
    await evening.class_is_over()
    await evening.answer(person, "c", 9)
    await evening.answer(person, "e0", "unfinished")
    return person.name


@pytest.mark.parametrize(
    "typed",
    ["5", "5 s", "5 Sek.", "5 segundos", "5 Sekunden", "5 reps", "5 Wdh.", "5 repeticiones"],
)
async def test_an_amount_may_be_typed_with_its_unit(evening: Evening, typed: str) -> None:
    dana = evening.members[await stopped_early(evening, "de")]
    await evening.say(dana, typed)
    assert evening.answers(dana)["d0"] == 5.0


@pytest.mark.parametrize("typed", ["5 m", "5 Sekundenkilo", "5..", "٥", "5 Katzen"])
async def test_no_other_word_is_taken_for_a_unit(evening: Evening, typed: str) -> None:
    dana = evening.members[await stopped_early(evening, "de")]
    said = await evening.say(dana, typed)
    assert "nichts gespeichert" in said.text
    assert "d0" not in evening.answers(dana)


@pytest.mark.parametrize(
    ("language", "question"),
    [
        ("en", "How hard was the whole class for you?"),
        ("es", "¿Cuánto esfuerzo te costó la clase entera?"),
        ("es-MX", "¿Cuánto esfuerzo te costó la clase entera?"),
        ("de", "Wie anstrengend war die ganze Stunde für dich?"),
        ("pt-br", "How hard was the whole class for you?"),
    ],
)
async def test_the_language_of_the_chat_is_the_default(
    evening: Evening, language: str, question: str
) -> None:
    (dana,) = await evening.join("Dana", language=language)
    await evening.class_is_over()
    assert question in dana.last_message.text


async def test_a_chosen_language_is_spoken_at_once(evening: Evening) -> None:
    ana = evening.members["Ana"]
    await evening.say(ana, "/settings")
    data = data_of(ana.last_message, SettingButton, setting=Setting.LANGUAGE, value=None)
    await evening.press(ana, data)
    labels = [key.label for row in ana.last_message.buttons for key in row]
    assert labels[1:4] == ["English", "Español", "Deutsch"]
    await evening.press(ana, "Español")
    assert (await evening.say(ana, "/cancel")).text == "No hay nada que cancelar."


@pytest.mark.parametrize(
    ("code", "said"),
    [("", "what I can do"), ("es", "qué puedo hacer"), ("de", "was ich kann")],
)
async def test_every_language_has_its_menu_of_commands(
    evening: Evening, code: str, said: str
) -> None:
    menu = evening.api.world.commands[("all_private_chats", code)]
    assert {each["command"]: each["description"] for each in menu}["help"] == said


async def test_two_people_in_one_group_are_each_spoken_to_in_their_own(evening: Evening) -> None:
    eva, jon = *await evening.join("Eva", language="es"), *await evening.join("Jon", language="de")
    await evening.class_is_over()
    assert "clase" in eva.last_message.text
    assert "Stunde" in jon.last_message.text
    assert "has joined" in evening.instructor.last_message.text
