"""Prompts: what each member is asked after a class, and what they answered."""

import json
from dataclasses import dataclass, replace
from datetime import datetime
from functools import lru_cache
from sys import intern

from pydantic import TypeAdapter

from bot.storage.database import Row, Transaction
from bot.storage.editions import said_otherwise
from bot.storage.moments import read_moment, write_moment
from bot.storage.names import name_row
from bot.storage.remembered import same
from core.effort import Scale
from core.movement import Dose
from core.questions import Asked, Question, Said

_ASKED = TypeAdapter(tuple[Asked, ...])
TEXTS = 256
"""Of prompts, read once: each is looked up for every tap, and is the same for many members."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prompt:
    """The questions one member gets about one session."""

    id: str
    session_id: str
    person_id: str
    told: tuple[tuple[str, Dose], ...]
    """Every movement of the class, with the dose they were given."""
    asked: tuple[Asked, ...]
    """The movements they are asked about, each with the dose they were given."""
    showing: Question | None
    """The question on screen; None when all is said."""
    letter: str
    """The outbox letter whose message shows it."""
    opened_at: datetime
    scale: Scale = Scale.TEN
    """Of the question on screen, as it was put there; kept by `open_prompt` and `show`."""


def prompt_id(session_id: str, person_id: str) -> str:
    """The id of the prompt that one member gets about one session."""
    return name_row("prompt", session_id, person_id)


async def open_prompt(tx: Transaction, prompt: Prompt) -> bool:
    """Store a prompt; false if this member already has one about that session."""
    added = await tx.value(
        """
        INSERT INTO prompt
            (id, session_id, person_id, told, asked, showing, letter, opened_at, scale)
        VALUES (:id, :session_id, :person_id, :told, :asked, :showing, :letter, :opened_at,
            (SELECT scale FROM person WHERE id = :person_id))
        ON CONFLICT (id) DO NOTHING RETURNING id
        """,
        id=prompt.id,
        session_id=prompt.session_id,
        person_id=prompt.person_id,
        told=_write_told(prompt.told),
        asked=_ASKED.dump_json(prompt.asked, exclude_none=True).decode(),
        showing=None if prompt.showing is None else str(prompt.showing),
        letter=prompt.letter,
        opened_at=write_moment(prompt.opened_at),
    )
    return added is not None


async def show(
    tx: Transaction, prompt: Prompt, showing: Question | None, letter: str | None = None
) -> None:
    """Remember which question is on screen, in which letter if that changed, on which scale."""
    await tx.execute(
        """
        UPDATE prompt SET showing = :showing, letter = :letter,
            scale = (SELECT scale FROM person WHERE person.id = prompt.person_id)
        WHERE id = :id
        """,
        id=prompt.id,
        showing=None if showing is None else str(showing),
        letter=letter or prompt.letter,
    )


async def prompt_of(tx: Transaction, prompt_id: str, person_id: str) -> Prompt | None:
    """The prompt with this id, if it is this person's."""
    row = await tx.one(
        "SELECT * FROM prompt WHERE id = :id AND person_id = :person_id",
        id=prompt_id,
        person_id=person_id,
    )
    return None if row is None else read_prompt(row)


async def latest_prompts(tx: Transaction, person_id: str, most: int) -> tuple[Prompt, ...]:
    """What this person was asked last, latest first."""
    rows = await tx.all(
        """
        SELECT * FROM prompt WHERE person_id = :person_id
        ORDER BY opened_at DESC, id LIMIT :most
        """,
        person_id=person_id,
        most=most,
    )
    return tuple(map(read_prompt, rows))


async def prompts_before(tx: Transaction, prompt: Prompt) -> int:
    """How often this person was asked before."""
    count: int = await tx.value(
        """
        SELECT count(*) FROM prompt
        WHERE person_id = :person_id AND opened_at < :opened_at
        """,
        person_id=prompt.person_id,
        opened_at=write_moment(prompt.opened_at),
    )
    return count


async def prompts_of_session(tx: Transaction, session_id: str) -> tuple[Prompt, ...]:
    """Everyone's prompts about one session."""
    rows = await tx.all(
        "SELECT * FROM prompt WHERE session_id = :session_id ORDER BY id", session_id=session_id
    )
    return tuple(map(read_prompt, rows))


async def prompts_on_screen(tx: Transaction, since: datetime) -> tuple[Prompt, ...]:
    """The prompts opened since then that wait for an answer."""
    rows = await tx.all(
        "SELECT * FROM prompt WHERE opened_at >= :since AND showing IS NOT NULL ORDER BY id",
        since=write_moment(since),
    )
    return tuple(map(read_prompt, rows))


async def put_answer(
    tx: Transaction, prompt: Prompt, question: Question, said: Said, update_id: int
) -> None:
    """Keep an answer; of two to the same question the one that was said later counts."""
    changed = await tx.execute(
        """
        INSERT INTO answer (prompt_id, question, number, on_6_20, word, said_at, said_in)
        VALUES (:prompt_id, :question, :number, :on_6_20, :word, :said_at, :said_in)
        ON CONFLICT (prompt_id, question) DO UPDATE
        SET number = excluded.number, on_6_20 = excluded.on_6_20, word = excluded.word,
            said_at = excluded.said_at, said_in = excluded.said_in
        WHERE excluded.said_at > answer.said_at
        OR (excluded.said_at = answer.said_at AND excluded.said_in >= answer.said_in)
        """,
        prompt_id=prompt.id,
        question=str(question),
        number=said.number,
        on_6_20=said.on_6_20,
        word=said.word,
        said_at=write_moment(said.at),
        said_in=update_id,
    )
    if changed:
        await said_otherwise(tx, prompt.session_id)


async def answers(tx: Transaction, prompt: Prompt) -> dict[str, Said]:
    """What was answered so far, by question."""
    rows = await tx.all("SELECT * FROM answer WHERE prompt_id = :id", id=prompt.id)
    return {row["question"]: read_said(row) for row in rows}


def read_prompt(row: Row) -> Prompt:
    """A row of `prompt` as a value."""
    return Prompt(
        id=row["id"],
        session_id=row["session_id"],
        person_id=row["person_id"],
        told=read_told(row["told"]),
        asked=read_asked(row["asked"]),
        showing=None if row["showing"] is None else Question.read(row["showing"]),
        letter=row["letter"],
        opened_at=read_moment(row["opened_at"]),
        scale=Scale(row["scale"]),
    )


def _write_told(told: tuple[tuple[str, Dose], ...]) -> str:
    """Lists without names: there is one for every movement, member and class, for years."""
    rows = [[name, dose.variation, dose.amount, dose.load, dose.sets] for name, dose in told]
    return json.dumps(rows, ensure_ascii=False, separators=(",", ":"))


@lru_cache(maxsize=TEXTS)
def read_told(text: str) -> tuple[tuple[str, Dose], ...]:
    """The column `told`: every movement with its dose."""
    return tuple(
        (intern(name), same(Dose(variation=variation, amount=amount, load=load, sets=sets)))
        for name, variation, amount, load, sets in json.loads(text)
    )


@lru_cache(maxsize=TEXTS)
def read_asked(text: str) -> tuple[Asked, ...]:
    """The column `asked`: the movements asked about."""
    return tuple(
        replace(each, movement=intern(each.movement), dose=same(each.dose))
        for each in _ASKED.validate_json(text)
    )


def read_said(row: Row) -> Said:
    """A row of `answer` as a value."""
    return Said(
        number=row["number"],
        on_6_20=row["on_6_20"],
        word=row["word"],
        at=read_moment(row["said_at"]),
    )
