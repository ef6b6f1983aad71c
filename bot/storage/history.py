"""Everything a group's members have said, read as the reports that core decides from."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from operator import itemgetter
from sys import intern

from bot.storage import sessions
from bot.storage.about import About, ManyClasses, OneClass
from bot.storage.attendance import PRESENT
from bot.storage.database import Row, Transaction
from bot.storage.estimates import estimates_of_group
from bot.storage.moments import read_moment
from bot.storage.prompts import read_asked, read_told
from bot.storage.remembered import HISTORIES, PROMPTS, Of, Read, same
from bot.storage.symptoms import symptoms_of_group
from bot.storage.verdicts import verdicts_as_bouts
from core.questions import Said, bouts, session_rating
from core.reports import (
    Bout,
    Reports,
    Session,
    SessionRating,
    Settled,
    StartingEstimate,
    Symptom,
)
from core.verdict import with_verdicts

MINUTE = 60.0  # seconds

COLUMNS = ("person_id", "session_id", "told", "asked", "local_day", "starts_at", "ends_at")
"""What the reports of a prompt are made from, besides its answers."""

Given = tuple[str, float | None, float | None, str | None, str]
"""An answer as it is stored: its question, number, number on 6 to 20, word, and when."""

Classes = Mapping[str, tuple[date, int]]
"""By id the day of each, oldest first, and a mark of all that what was said about it is made from;
see `bot.storage.editions`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Said:
    """What was said about classes, as it is stored."""

    prompts: Sequence[Row] = ()
    answers: Sequence[Row] = ()
    noted: Sequence[Row] = ()
    """Who was there and who wasn't, as the instructors have noted it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stored:
    """Everything that a group's members have said, as it is stored; what it says is read apart."""

    whose: Of
    classes: Classes
    """Those about which something was said."""
    known: Mapping[str, Session]
    """What was said about those that were read before, by their ids."""
    said: _Said
    """About the others, as are verdicts."""
    verdicts: Sequence[Bout]
    symptoms: Sequence[Symptom]
    estimates: Sequence[StartingEstimate]

    def reports(self) -> Settled:
        """What it says. It may take a while, needs no database, and may be done in a thread.

        Where a member hasn't said so themselves, who was there is known from what was noted.
        """
        said = _as_reports(self.said)
        done = Reports(ratings=said.ratings, bouts=with_verdicts(said.bouts, self.verdicts))
        fresh = {each.name: each for each in done.settled().sessions}
        read = {}
        for name, (day, mark) in self.classes.items():
            told = self.known.get(name) or fresh.get(name) or Session(on=day, name=name)
            read[name] = (mark, told)
        HISTORIES.keep(self.whose, read)
        return Settled(
            sessions=tuple(each for _, each in read.values() if each.ratings or each.bouts),
            symptoms=tuple(self.symptoms),
            estimates=tuple(self.estimates),
        )


async def reports_of_group(
    tx: Transaction, group_id: str, *, member: str | None = None, since: date | None = None
) -> Settled:
    """Ratings, bouts and symptoms of a group: everyone's from the start, unless told otherwise.

    Members are named by their person's id.
    """
    return (await stored_of_group(tx, group_id, member=member, since=since)).reports()


async def stored_of_group(
    tx: Transaction, group_id: str, *, member: str | None = None, since: date | None = None
) -> Stored:
    """The same as it is stored, for whoever keeps others waiting while it is read."""
    classes = await _classes(tx, group_id, since)
    known = _known(classes, group_id, member)
    unread = [(name, day) for name, (day, _) in classes.items() if name not in known]
    about = _about(unread, group_id, member)
    return Stored(
        whose=(group_id, member),
        classes=classes,
        known=known,
        said=_Said() if about is None else await _said(tx, about),
        verdicts=() if about is None else await verdicts_as_bouts(tx, about),
        symptoms=[each.fact for each in await symptoms_of_group(tx, group_id, member)],
        estimates=await estimates_of_group(tx, group_id, member),
    )


def _about(unread: Sequence[tuple[str, date]], group_id: str, member: str | None) -> About | None:
    """What has to be read; mostly it's the class that is being answered about."""
    if not unread:
        return None
    (first, day), *more = unread
    if more:
        return ManyClasses(group_id=group_id, member=member, since=day)
    return OneClass(session_id=first, member=member)


async def _classes(tx: Transaction, group_id: str, since: date | None) -> Classes:
    rows = await tx.all(
        """
        SELECT id, edition, local_day, starts_at, ends_at FROM session
        WHERE group_id = :group_id AND cancelled_at IS NULL AND edition IS NOT NULL
        AND (:since IS NULL OR local_day >= :since) ORDER BY local_day, id
        """,
        group_id=group_id,
        since=None if since is None else since.isoformat(),
    )
    return {
        intern(row["id"]): (date.fromisoformat(row["local_day"]), hash(tuple(row))) for row in rows
    }


def _known(classes: Classes, group_id: str, member: str | None) -> dict[str, Session]:
    """What was said about the classes that are as they were when they were read before."""
    mine, everyones = HISTORIES.of((group_id, member)), HISTORIES.of((group_id, None))
    found = {}
    for name, (_, mark) in classes.items():
        if name in mine and mine[name][0] == mark:
            found[name] = mine[name][1]
        elif member is not None and name in everyones and everyones[name][0] == mark:
            found[name] = everyones[name][1].of(member)
    return found


async def said_about(tx: Transaction, session: sessions.Session) -> Reports:
    """What was said after one class, and who was there; without what was said while it was on."""
    return _as_reports(await _said(tx, OneClass(session_id=session.id)))


def _as_reports(said: _Said) -> Reports:
    given = _by_prompt(said.answers)
    ratings: list[SessionRating] = []
    done: list[Bout] = []
    for row in said.prompts:
        rating, of_it = _read(row, given.get(row["id"], ()))
        ratings += [] if rating is None else [rating]
        done += of_it
    told = {each.about for each in ratings}
    ratings += [each for each in map(_presence, said.noted) if each.about not in told]
    return Reports(ratings=tuple(ratings), bouts=tuple(done))


def _read(prompt: Row, given: tuple[Given, ...]) -> Read:
    """What one prompt's answers say; worked out anew only where one of them has changed."""
    stored = tuple(prompt[name] for name in COLUMNS)
    mark = hash((stored, given))
    return PROMPTS.get(prompt["id"], mark, lambda: _worked_out(prompt, given))


def _worked_out(prompt: Row, given: tuple[Given, ...]) -> Read:
    answers = {
        question: Said(number=same(number), on_6_20=on_6_20, word=word, at=read_moment(at))
        for question, number, on_6_20, word, at in given
    }
    member, session = intern(prompt["person_id"]), intern(prompt["session_id"])
    on = date.fromisoformat(prompt["local_day"])
    minutes = _minutes(prompt["starts_at"], prompt["ends_at"])
    rating = session_rating(answers, member=member, session=session, on=on, minutes=minutes)
    told, asked = read_told(prompt["told"]), read_asked(prompt["asked"])
    return rating, bouts(asked, answers, told=told, member=member, session=session, on=on)


async def _said(tx: Transaction, about: About) -> _Said:
    prompts = await tx.all(
        f"""
        SELECT prompt.*, session.local_day, session.starts_at, session.ends_at
        FROM prompt JOIN session ON session.id = prompt.session_id
        WHERE {about.where("prompt")}
        """,  # noqa: S608 - our own
        **about.named,
    )
    answers = await tx.all(
        f"""
        SELECT answer.* FROM answer
        JOIN prompt ON prompt.id = answer.prompt_id
        JOIN session ON session.id = prompt.session_id
        WHERE {about.where("prompt")}
        """,  # noqa: S608 - our own
        **about.named,
    )
    noted = await tx.all(
        f"""
        SELECT attendance.*, session.local_day, session.starts_at, session.ends_at
        FROM attendance JOIN session ON session.id = attendance.session_id
        WHERE {about.where("attendance")}
        """,  # noqa: S608 - our own
        **about.named,
    )
    return _Said(prompts=prompts, answers=answers, noted=noted)


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


def _by_prompt(rows: Iterable[Row]) -> dict[str, tuple[Given, ...]]:
    found: dict[str, list[Given]] = {}
    for row in rows:
        given = (row["question"], row["number"], row["on_6_20"], row["word"], row["said_at"])
        found.setdefault(row["prompt_id"], []).append(given)
    return {prompt: tuple(sorted(given, key=itemgetter(0))) for prompt, given in found.items()}


def _minutes(starts_at: str, ends_at: str) -> float:
    return (read_moment(ends_at) - read_moment(starts_at)).total_seconds() / MINUTE
