"""Buttons in the wrong hands: a polite refusal, no change, and nothing learnt."""

import asyncio
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.buttons import (
    KINDS,
    Button,
    EstimateButton,
    JoinButton,
    ReplaceButton,
    VerdictButton,
    read_button,
)
from demo_script.stand_in import Person, Press
from demo_script.theatre import OWNER_CODE
from tests.journeys.conftest import open_stage
from tests.journeys.evening import PROMPTED, Evening
from tests.journeys.plans import plan_text

REFUSALS = {
    "This button doesn't work for you.",
    "This button is no longer in use.",
    "This question is closed.",
}
FOR_ALL_MEMBERS = {VerdictButton.kind, EstimateButton.kind}
"""Buttons that name a class or a group: they are for whoever takes part in it."""
NOBODYS = "a2b3c4d5e6f7"
"""An id of the right shape that names nothing."""


async def crowded(evening: Evening) -> dict[str, str]:
    """A story with every kind of button in it; what each carries, by its kind."""
    ana, ben = evening.members["Ana"], evening.members["Ben"]
    reader = evening.api.person("Reader")
    reader.open_link(evening.link)
    await evening.upload(plan_text(minutes=45))
    await evening.class_is_over()
    await evening.answer_all(ana, h="pain", w=0)
    await evening.say(ana, "/variant")
    await evening.answer(ben, "c", 7)
    people = [evening.instructor, reader, *evening.members.values()]
    found: dict[str, str] = {}
    for person in people:
        for message in person.messages:
            for data in (each.data for row in message.buttons for each in row):
                button = read_button(data or "")
                assert button is not None
                found.setdefault(button.kind, data or "")
    return found


async def outsiders(evening: Evening) -> dict[str, Person]:
    """People for whom none of those buttons is: each in another position."""
    stranger = evening.api.person("Stranger")
    stranger.press_start()
    return {"stranger": stranger, "another member": evening.members["Cleo"]}


async def press(evening: Evening, person: Person, data: str) -> Press:
    """A press that no button of theirs carries."""
    made_up = person.press_raw(1, data)
    await evening.settle()
    assert made_up.answer is not None, f"nobody answered {data!r}"
    return made_up


async def test_no_button_works_for_anybody_else(evening: Evening) -> None:
    found = await crowded(evening)
    assert {"a", "s", "j", "p", "k", "c", "m"} <= set(found)
    people = await outsiders(evening)
    await evening.settle()
    for kind, data in found.items():
        for who, person in people.items():
            if kind in FOR_ALL_MEMBERS and who == "another member":
                continue
            before, since = evening.dump(), len(evening.api.log)
            made_up = await press(evening, person, data)
            assert made_up.answer is not None
            assert made_up.answer.text in REFUSALS, (kind, who)
            assert evening.dump() == before, (kind, who)
            said = [e for e in evening.api.log[since:] if e.kind in ("message", "edit")]
            assert said == [], (kind, who)


async def test_members_of_another_group_and_its_instructor_get_no_further(
    evening: Evening,
) -> None:
    found = await crowded(evening)
    await evening.upload(plan_text("Tide Room yoga"))
    (other,) = await evening.join("Other")
    async with evening.theatre.house.database.transaction() as tx:
        await tx.execute(  # Other leads the second group, and only that
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE training_group.name = 'Tide Room yoga' AND account = :account""",
            account=other.person_id,
        )
    for data in found.values():
        before = evening.dump()
        made_up = await press(evening, other, data)
        assert made_up.answer is not None
        assert made_up.answer.text in REFUSALS, data
        assert evening.dump() == before, data


async def test_a_refusal_does_not_tell_whether_there_is_such_a_thing(evening: Evening) -> None:
    found = await crowded(evening)
    cleo = evening.members["Cleo"]
    for kind, data in found.items():
        if kind in FOR_ALL_MEMBERS:
            continue
        button_id = data.split(":")[1]
        real = await press(evening, cleo, data)
        unreal = await press(evening, cleo, data.replace(button_id, NOBODYS))
        assert real.answer is not None
        assert unreal.answer is not None
        assert real.answer.text == unreal.answer.text, kind


@pytest.mark.parametrize("question", ["e2", "r2", "d2", "w", "h", "c"])
async def test_answers_that_do_not_fit_the_question_are_not_stored(
    evening: Evening, question: str
) -> None:
    await evening.class_is_over()
    ana = evening.members["Ana"]
    prompt = ana.last_message.buttons[0][0].data or ""
    prompt_id = prompt.split(":")[1]
    for value in ("11", "-1", "9999", "nan", "1e1", "general2", "7.123", "", "٧", "7:7"):
        await press(evening, ana, f"a:{prompt_id}:{question}:{value}")
    stored = evening.rows("SELECT question, number FROM answer")
    assert not [each for each in stored if each[0] != "r2" and each[0] != "d2"], stored


MADE_UP = st.one_of(
    st.text(max_size=21).filter(lambda text: 0 < len(text.encode(errors="ignore")) <= 64),
    st.builds(
        lambda kind, row, rest: f"{kind}:{row}:{rest}"[:64],
        st.sampled_from([each.kind for each in KINDS]),
        st.sampled_from([NOBODYS, "", "A" * 12, "a" * 13]),
        st.text(st.characters(codec="ascii", exclude_categories=["Cc"]), max_size=20),
    ),
)


@given(st.lists(MADE_UP, min_size=10, max_size=25))
@settings(max_examples=6, deadline=None)
def test_whatever_an_app_makes_up_is_answered_and_changes_nothing(made_up: list[str]) -> None:
    async def story() -> None:
        with tempfile.TemporaryDirectory() as folder:
            async with open_stage(Path(folder), PROMPTED) as stage:
                await stage.found()
                before = stage.dump()
                for data in made_up:
                    await press(stage, stage.instructor, encodable(data))
                assert stage.dump() == before

    asyncio.run(story())


def encodable(text: str) -> str:
    """The text without half characters, which no app can send."""
    return text.encode(errors="ignore").decode() or "-"


async def test_terms_and_questions_are_about_what_they_were_made_for(evening: Evening) -> None:
    """The id of one kind of button on another kind of button opens nothing."""
    found = await crowded(evening)
    ids = {kind: data.split(":")[1] for kind, data in found.items()}
    kinds: tuple[type[JoinButton | ReplaceButton], ...] = (JoinButton, ReplaceButton)
    before = evening.dump()
    for kind in kinds:
        for other, button_id in ids.items():
            if other == kind.kind:
                continue
            button: Button = kind(button_id, yes=True)
            made_up = await press(evening, evening.instructor, button.write())
            assert made_up.answer is not None
            assert made_up.answer.text in REFUSALS
    assert evening.dump() == before
    assert OWNER_CODE not in repr(before)
