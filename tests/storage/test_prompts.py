"""Answers in the database: in whatever order they arrive, what was said last counts."""

import asyncio
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.storage import groups, people, prompts, sessions
from bot.storage.database import Database, Transaction, open_database
from bot.storage.prompts import Prompt
from bot.storage.sessions import Session
from core.questions import SESSION, Question, Said, Topic

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
QUESTIONS = (SESSION, Question(Topic.EFFORT, 0), Question(Topic.HURT))


@dataclass(frozen=True)
class Given:
    """One answer as it came in."""

    question: Question
    said: Said
    update_id: int


def later(one: Given) -> tuple[datetime, int]:
    """Which of two answers was said later."""
    return (one.said.at, one.update_id)


@st.composite
def arrivals(draw: st.DrawFn) -> list[Given]:
    """Answers of a few seconds in any order, each from an update of its own."""
    made = [
        Given(
            question=draw(st.sampled_from(QUESTIONS)),
            said=Said(
                number=float(draw(st.integers(0, 10))),
                at=NOON + timedelta(seconds=draw(st.integers(0, 3))),
            ),
            update_id=update_id,
        )
        for update_id in range(draw(st.integers(1, 8)))
    ]
    return draw(st.permutations(made))


async def one_prompt(tx: Transaction) -> Prompt:
    """A member who is asked about one class."""
    person = await people.remember(tx, 7, "Ana", "en", NOON)
    group = await groups.make_group(tx, person, "Harbour Hall", "", "once", NOON)
    session = Session(
        id=sessions.session_id(group.id, "2026-03-02T10:00"),
        group_id=group.id,
        plan_id=group.plan_id,
        slot="2026-03-02T10:00",
        starts_at=NOON - timedelta(hours=2),
        ends_at=NOON - timedelta(hours=1),
        local_day=NOON.date(),
        cancelled=False,
        moved=False,
    )
    await sessions.put_session(tx, session)
    prompt = Prompt(
        id=prompts.prompt_id(session.id, person.id),
        session_id=session.id,
        person_id=person.id,
        asked=(),
        told=(),
        showing=SESSION,
        letter="prompt/1",
        opened_at=NOON,
    )
    assert await prompts.open_prompt(tx, prompt)
    return prompt


@given(arrivals())
@settings(max_examples=15, deadline=None)
def test_the_answer_said_last_counts_in_whatever_order_they_arrive(given: list[Given]) -> None:
    async def story() -> dict[str, Said]:
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "post.sqlite3"
            async with open_database(file) as opened, opened.transaction() as tx:
                prompt = await one_prompt(tx)
                for each in given:
                    await prompts.put_answer(tx, prompt, each.question, each.said, each.update_id)
                return await prompts.answers(tx, prompt)

    last = {str(each.question): each.said for each in sorted(given, key=later)}
    assert asyncio.run(story()) == last


async def test_a_prompt_is_opened_once(database: Database) -> None:
    async with database.transaction() as tx:
        prompt = await one_prompt(tx)
        assert not await prompts.open_prompt(tx, prompt)


async def test_a_prompt_is_found_only_for_whom_it_is(database: Database) -> None:
    async with database.transaction() as tx:
        prompt = await one_prompt(tx)
        assert await prompts.prompt_of(tx, prompt.id, prompt.person_id) == prompt
        assert await prompts.prompt_of(tx, prompt.id, "somebody else") is None
