"""Everything a group's members have said, read as the reports that core decides from."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from operator import itemgetter
from sys import intern

from bot.storage.attendance import PRESENT
from bot.storage.database import Row, Transaction
from bot.storage.estimates import estimates_of_group
from bot.storage.moments import read_moment
from bot.storage.prompts import read_asked, read_told
from bot.storage.remembered import Remembered
from bot.storage.sessions import Session
from bot.storage.symptoms import symptoms_of_group
from bot.storage.verdicts import verdicts_as_bouts
from core.movement import Dose
from core.questions import Said, bouts, session_rating
from core.reports import Bout, Reports, SessionRating, StartingEstimate, Symptom
from core.verdict import with_verdicts

MINUTE = 60.0  # seconds
REMEMBERED = 8192
"""Prompts whose reports are remembered, since nearly all that is read was read before."""

COLUMNS = ("person_id", "session_id", "told", "asked", "local_day", "starts_at", "ends_at")
"""What the reports of a prompt are made from, besides its answers."""

Given = tuple[str, float | None, float | None, str | None, str]
"""An answer as it is stored: its question, number, number on 6 to 20, word, and when."""
Read = tuple[SessionRating | None, tuple[Bout, ...]]
"""What a prompt's answers say."""

_READ = Remembered[Read](REMEMBERED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored:
    """Everything that a group's members have said, as it is stored; what it says is read apart."""

    prompts: Sequence[Row]
    answers: Sequence[Row]
    noted: Sequence[Row]
    """Who was there and who wasn't, as the instructors have noted it."""
    verdicts: Sequence[Bout]
    symptoms: Sequence[Symptom]
    estimates: Sequence[StartingEstimate]

    def reports(self) -> Reports:
        """What it says. It takes a while, needs no database, and may be done in a thread.

        Where a member hasn't said so themselves, who was there is known from what was noted.
        """
        ratings, done = _said(self.prompts, _by_prompt(self.answers))
        told = {each.about for each in ratings}
        ratings += [each for each in map(_presence, self.noted) if each.about not in told]
        return Reports(
            ratings=tuple(ratings),
            bouts=with_verdicts(done, self.verdicts),
            symptoms=tuple(self.symptoms),
            estimates=tuple(self.estimates),
        )


async def reports_of_group(
    tx: Transaction, group_id: str, *, member: str | None = None, since: date | None = None
) -> Reports:
    """Ratings, bouts and symptoms of a group: everyone's from the start, unless told otherwise.

    Members are named by their person's id.
    """
    return (await stored_of_group(tx, group_id, member=member, since=since)).reports()


async def stored_of_group(
    tx: Transaction, group_id: str, *, member: str | None = None, since: date | None = None
) -> Stored:
    """The same as it is stored, for whoever keeps others waiting while it is read."""
    named = {
        "group_id": group_id,
        "member": member,
        "since": None if since is None else since.isoformat(),
    }
    prompts = await tx.all(
        """
        SELECT prompt.*, session.local_day, session.starts_at, session.ends_at
        FROM prompt JOIN session ON session.id = prompt.session_id
        WHERE session.group_id = :group_id AND session.cancelled_at IS NULL
        AND (:member IS NULL OR prompt.person_id = :member)
        AND (:since IS NULL OR session.local_day >= :since)
        """,
        **named,
    )
    return Stored(
        prompts=prompts,
        answers=await _answers(tx, named),
        noted=await _noted(tx, named),
        verdicts=await verdicts_as_bouts(tx, group_id, member, since),
        symptoms=[each.fact for each in await symptoms_of_group(tx, group_id, member)],
        estimates=await estimates_of_group(tx, group_id, member),
    )


async def said_about(tx: Transaction, session: Session) -> Reports:
    """What was said after one class, and who was there; without what was said while it was on."""
    prompts = await tx.all(
        """
        SELECT prompt.*, session.local_day, session.starts_at, session.ends_at
        FROM prompt JOIN session ON session.id = prompt.session_id WHERE session.id = :session
        """,
        session=session.id,
    )
    answers = await tx.all(
        """
        SELECT answer.* FROM answer JOIN prompt ON prompt.id = answer.prompt_id
        WHERE prompt.session_id = :session
        """,
        session=session.id,
    )
    ratings, done = _said(prompts, _by_prompt(answers))
    told = {each.about for each in ratings}
    noted = await tx.all(
        """
        SELECT attendance.*, session.local_day, session.starts_at, session.ends_at
        FROM attendance JOIN session ON session.id = attendance.session_id
        WHERE session.id = :session
        """,
        session=session.id,
    )
    ratings += [each for each in map(_presence, noted) if each.about not in told]
    return Reports(ratings=tuple(ratings), bouts=tuple(done))


def _said(
    prompts: Iterable[Row], given: Mapping[str, tuple[Given, ...]]
) -> tuple[list[SessionRating], list[Bout]]:
    ratings: list[SessionRating] = []
    done: list[Bout] = []
    for row in prompts:
        rating, of_it = _read(row, given.get(row["id"], ()))
        ratings += [] if rating is None else [rating]
        done += of_it
    return ratings, done


def _read(prompt: Row, given: tuple[Given, ...]) -> Read:
    """What one prompt's answers say; worked out anew only where one of them has changed."""
    stored = tuple(prompt[name] for name in COLUMNS)
    mark = hash((stored, given))
    return _READ.get(prompt["id"], mark, lambda: _worked_out(prompt, given))


def _worked_out(prompt: Row, given: tuple[Given, ...]) -> Read:
    answers = {
        question: Said(number=number, on_6_20=on_6_20, word=word, at=read_moment(at))
        for question, number, on_6_20, word, at in given
    }
    member, session = intern(prompt["person_id"]), intern(prompt["session_id"])
    on = date.fromisoformat(prompt["local_day"])
    minutes = _minutes(prompt["starts_at"], prompt["ends_at"])
    rating = session_rating(answers, member=member, session=session, on=on, minutes=minutes)
    told = tuple((intern(name), _same(dose)) for name, dose in read_told(prompt["told"]))
    asked = read_asked(prompt["asked"])
    return rating, bouts(asked, answers, told=told, member=member, session=session, on=on)


@lru_cache(maxsize=REMEMBERED)
def _same(dose: Dose) -> Dose:
    """One object for all doses that are equal: a few hundred, told again and again for years."""
    return dose


async def _noted(tx: Transaction, named: Mapping[str, str | None]) -> list[Row]:
    return await tx.all(
        """
        SELECT attendance.*, session.local_day, session.starts_at, session.ends_at
        FROM attendance JOIN session ON session.id = attendance.session_id
        WHERE session.group_id = :group_id AND session.cancelled_at IS NULL
        AND (:member IS NULL OR attendance.person_id = :member)
        AND (:since IS NULL OR session.local_day >= :since)
        """,
        **named,
    )


def _presence(row: Row) -> SessionRating:
    return SessionRating(
        member=row["person_id"],
        session=row["session_id"],
        on=date.fromisoformat(row["local_day"]),
        said_at=read_moment(row["noted_at"]),
        attended=row["word"] == PRESENT,
        minutes=_minutes(row["starts_at"], row["ends_at"]),
        noted=True,
    )


async def _answers(tx: Transaction, named: Mapping[str, str | None]) -> list[Row]:
    return await tx.all(
        """
        SELECT answer.* FROM answer
        JOIN prompt ON prompt.id = answer.prompt_id
        JOIN session ON session.id = prompt.session_id
        WHERE session.group_id = :group_id AND session.cancelled_at IS NULL
        AND (:member IS NULL OR prompt.person_id = :member)
        AND (:since IS NULL OR session.local_day >= :since)
        """,
        **named,
    )


def _by_prompt(rows: Iterable[Row]) -> dict[str, tuple[Given, ...]]:
    found: dict[str, list[Given]] = {}
    for row in rows:
        given = (row["question"], row["number"], row["on_6_20"], row["word"], row["said_at"])
        found.setdefault(row["prompt_id"], []).append(given)
    return {prompt: tuple(sorted(given, key=itemgetter(0))) for prompt, given in found.items()}


def _minutes(starts_at: str, ends_at: str) -> float:
    return (read_moment(ends_at) - read_moment(starts_at)).total_seconds() / MINUTE
