"""Everything a group's members have said, read as the reports that core decides from."""

from collections.abc import Iterable, Mapping
from datetime import date

from bot.storage.attendance import PRESENT
from bot.storage.database import Row, Transaction
from bot.storage.estimates import estimates_of_group
from bot.storage.moments import read_moment
from bot.storage.prompts import read_prompt, read_said
from bot.storage.sessions import Session
from bot.storage.symptoms import symptoms_of_group
from bot.storage.verdicts import verdicts_as_bouts
from core.questions import Said, bouts, session_rating
from core.reports import Bout, Reports, SessionRating

MINUTE = 60.0  # seconds


async def reports_of_group(
    tx: Transaction, group_id: str, *, member: str | None = None, since: date | None = None
) -> Reports:
    """Ratings, bouts and symptoms of a group: everyone's from the start, unless told otherwise.

    Members are named by their person's id. Who was there is known from what an instructor has
    noted, where a member hasn't said so themselves.
    """
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
    ratings, done = _said(prompts, await _answers(tx, named))
    done += await verdicts_as_bouts(tx, group_id, member, since)
    told = {each.about for each in ratings}
    noted = await _noted(tx, named)
    ratings += [each for each in noted if each.about not in told]
    symptoms = await symptoms_of_group(tx, group_id, member)
    return Reports(
        ratings=tuple(ratings),
        bouts=tuple(done),
        symptoms=tuple(each.fact for each in symptoms),
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
    prompts: Iterable[Row], said: Mapping[str, Mapping[str, Said]]
) -> tuple[list[SessionRating], list[Bout]]:
    ratings: list[SessionRating] = []
    done: list[Bout] = []
    for row in prompts:
        prompt = read_prompt(row)
        answers = said.get(prompt.id, {})
        on = date.fromisoformat(row["local_day"])
        rating = session_rating(
            answers,
            member=prompt.person_id,
            session=prompt.session_id,
            on=on,
            minutes=_minutes(row),
        )
        ratings += [] if rating is None else [rating]
        done += bouts(
            prompt.asked,
            answers,
            told=prompt.told,
            member=prompt.person_id,
            session=prompt.session_id,
            on=on,
        )
    return ratings, done


async def _noted(tx: Transaction, named: Mapping[str, str | None]) -> list[SessionRating]:
    """Who was there and who wasn't, as the instructors have noted it."""
    rows = await tx.all(
        """
        SELECT attendance.*, session.local_day, session.starts_at, session.ends_at
        FROM attendance JOIN session ON session.id = attendance.session_id
        WHERE session.group_id = :group_id AND session.cancelled_at IS NULL
        AND (:member IS NULL OR attendance.person_id = :member)
        AND (:since IS NULL OR session.local_day >= :since)
        """,
        **named,
    )
    return list(map(_presence, rows))


def _presence(row: Row) -> SessionRating:
    return SessionRating(
        member=row["person_id"],
        session=row["session_id"],
        on=date.fromisoformat(row["local_day"]),
        said_at=read_moment(row["noted_at"]),
        attended=row["word"] == PRESENT,
        minutes=_minutes(row),
        noted=True,
    )


async def _answers(tx: Transaction, named: Mapping[str, str | None]) -> dict[str, dict[str, Said]]:
    rows = await tx.all(
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
    return _by_prompt(rows)


def _by_prompt(rows: Iterable[Row]) -> dict[str, dict[str, Said]]:
    found: dict[str, dict[str, Said]] = {}
    for row in rows:
        found.setdefault(row["prompt_id"], {})[row["question"]] = read_said(row)
    return found


def _minutes(row: Row) -> float:
    length = read_moment(row["ends_at"]) - read_moment(row["starts_at"])
    return length.total_seconds() / MINUTE
