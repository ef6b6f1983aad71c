"""A group's data as files for an instructor, gathered class by class so that nobody waits."""

from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from datetime import date, datetime

from bot.desk.calendar import plan_of
from bot.desk.group_files import (
    Parts,
    Record,
    answers_of,
    as_line,
    estimate_of,
    symptom_of,
)
from bot.desk.letters import Errand, change, say
from bot.desk.voice import speech_to
from bot.planfile import PlanFile
from bot.planfile.write import write_plan_file
from bot.reportsfile import COLUMNS
from bot.reportsfile.write import distinct, names_only, rows_of, written
from bot.storage import exports, groups, members, people, sessions
from bot.storage import roster as stored
from bot.storage.about import ManyClasses
from bot.storage.database import Database, Transaction
from bot.storage.estimates import estimates_of_group
from bot.storage.exports import Export
from bot.storage.groups import Group
from bot.storage.history import said_about
from bot.storage.moments import write_moment
from bot.storage.outbox import Attachment, Letter, queue
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.storage.symptoms import symptoms_of_group
from bot.storage.verdicts import verdicts_as_bouts
from bot.timetable import local
from bot.words import exporting as words
from bot.words.speech import Html
from core.reports import Bout, Reports
from core.verdict import with_verdicts

LARGE = 4000
"""Answers from which on an export says how far it is."""
STEPS = 5
"""How often it says so."""
CLASSES_AT_ONCE = 2
"""Read in one transaction: others wait no longer than for an answer."""
MOST_BYTES = 16 * 1024 * 1024
"""Of one file: a phone opens it, and it fits into the chat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """What an export begins with."""

    export: Export
    person: Person
    group: Group
    plan: PlanFile
    names: Mapping[str, str]
    """Everybody who ever took part, those who do now first, by person id; each name once."""
    here: frozenset[str]
    """Who takes part now, by person id."""
    known: Reports
    """What isn't about a class: estimates, symptoms, and bouts rated while a class was on."""
    document: Record
    """What the other file begins with."""
    answers: int
    now: datetime

    @property
    def current(self) -> dict[str, str]:
        """The names of those who take part now."""
        return {each: name for each, name in self.names.items() if each in self.here}


async def send_group_export(database: Database, export: Export, now: datetime) -> None:
    """Gather, write and queue it; done over, it is sent once."""
    async with database.transaction() as tx:
        basis = await _begin(tx, export, now)
    if basis is None:
        return
    table = Parts(written([COLUMNS]), most=MOST_BYTES)
    whole = Parts(_head(basis), "]}", between=",\n", most=MOST_BYTES)
    with closing(table), closing(whole):
        table.add(written(names_only(basis.current.values(), basis.plan.plan, _today(basis))))
        await _gather(database, basis, table, whole)
        table.add(written(rows_of(_unseen(basis), basis.current, basis.plan.plan)))
        await _send(database, basis, table, whole)


async def _begin(tx: Transaction, export: Export, now: datetime) -> Basis | None:
    """Everything that is read once; None if it is done, or the asker no longer leads the group."""
    person = (await people.people_by_id(tx, export.group_id)).get(export.person_id)
    leads = person is not None and await groups.leads(tx, person, export.group_id)
    if person is None or not leads or not await exports.is_waiting(tx, export.id):
        await exports.end_export(tx, export.id, now)
        return None
    group = await groups.group(tx, export.group_id)
    following = await sessions.next_session(tx, group.id, now)
    plan = await plan_of(tx, group.plan_id if following is None else following.plan_id)
    here = await members.members(tx, group.id)
    gone = [each for each in await stored.roster(tx, group.id, now) if not each.takes_part]
    everyone = [*here, *(each.person for each in gone)]
    unique = distinct(each.name for each in everyone)
    names = {each.id: name for each, name in zip(everyone, unique, strict=True)}
    symptoms = await symptoms_of_group(tx, group.id)
    basis = Basis(
        export=export,
        person=person,
        group=group,
        plan=plan,
        names=names,
        here=frozenset(each.id for each in here),
        known=Reports(
            bouts=await verdicts_as_bouts(tx, ManyClasses(group_id=group.id)),
            estimates=await estimates_of_group(tx, group.id, None),
            symptoms=tuple(each.fact for each in symptoms),
        ),
        document=await _document(tx, group, plan, names, now),
        answers=await exports.count_answers(tx, group.id),
        now=now,
    )
    await _tell_progress(tx, basis, 0)
    return basis


async def _document(
    tx: Transaction, group: Group, plan: PlanFile, names: Mapping[str, str], now: datetime
) -> Record:
    entries = {each.person.id: each for each in await stored.roster(tx, group.id, now)}
    return {
        "exported_at": write_moment(now),
        "group": {
            "name": group.name,
            "timezone": plan.timezone,
            "minutes": plan.minutes,
            "target": plan.plan.target,
            "ceiling": plan.plan.ceiling,
        },
        "plans": await exports.plans_of_group(tx, group.id),
        "members": [
            {
                "name": name,
                "state": entries[each].part.value,
                "since": write_moment(entries[each].since),
            }
            for each, name in names.items()
        ],
    }


def _head(basis: Basis) -> str:
    """The other file up to its classes, open at the end."""
    names, known = basis.names, basis.known
    head = as_line(
        {
            "about": words.about(speech_to(basis.person)),
            **basis.document,
            "estimates": [
                estimate_of(each, names[each.member])
                for each in known.estimates
                if each.member in names
            ],
            "symptoms": [
                symptom_of(each, names[each.member])
                for each in known.symptoms
                if each.member in names
            ],
        }
    )
    return f'{head[:-1]},\n"classes":[\n'


async def _gather(database: Database, basis: Basis, table: Parts, whole: Parts) -> None:
    """Class by class, each pair of them in a transaction of its own."""
    in_class: dict[str, list[Bout]] = {}
    for each in basis.known.bouts:
        in_class.setdefault(each.session, []).append(each)
    last: Session | None = None
    seen, told = 0, 0
    while True:
        async with database.transaction() as tx:
            found = await exports.sessions_with_answers(tx, basis.group.id, last, CLASSES_AT_ONCE)
            said = [await said_about(tx, each) for each in found]
            step = STEPS * seen // max(1, basis.answers)
            if step > told:
                told = step
                await _tell_progress(tx, basis, seen)
        for session, reports in zip(found, said, strict=True):
            bouts = with_verdicts(reports.bouts, in_class.get(session.id, ()))
            settled = Reports(ratings=reports.ratings, bouts=bouts).settled()
            table.add(written(rows_of(settled, basis.current, basis.plan.plan)))
            whole.add(as_line(_class(session, settled, basis)))
            seen += sum(each.effort is not None for each in bouts) + len(reports.ratings)
        if not found:
            return
        last = found[-1]


def _class(session: Session, settled: Reports, basis: Basis) -> Record:
    return {
        "day": session.local_day.isoformat(),
        "starts_at": write_moment(session.starts_at),
        "ends_at": write_moment(session.ends_at),
        "answers": answers_of(settled, basis.names),
    }


def _unseen(basis: Basis) -> Reports:
    """What isn't about a class, for the table."""
    return Reports(estimates=basis.known.estimates, symptoms=basis.known.symptoms)


async def _tell_progress(tx: Transaction, basis: Basis, seen: int) -> None:
    """Say how far it is, in one message that changes; small exports are there at once."""
    if basis.answers < LARGE:
        return
    speech = speech_to(basis.person)
    message = words.collecting(speech, basis.group.name, seen, basis.answers)
    letter = _letter_id(basis, "progress")
    if not await say(tx, basis.person.account, message, Errand(id=letter), basis.now):
        errand = Errand(id=f"{letter}/{seen}")
        await change(tx, basis.person.account, message, errand, basis.now, letter=letter)


async def _send(database: Database, basis: Basis, table: Parts, whole: Parts) -> None:
    """Queue each file by itself, so that one of them at a time is in memory, and say what it is."""
    speech, group = speech_to(basis.person), basis.group.name
    kinds = (("answers.csv", table), ("group.json", whole))
    async with database.transaction() as tx:
        message = words.collected(speech, group, table.count + whole.count + 1)
        letter = _letter_id(basis, "progress")
        if not await say(tx, basis.person.account, message, Errand(id=letter), basis.now):
            errand = Errand(id=f"{letter}/done")
            await change(tx, basis.person.account, message, errand, basis.now, letter=letter)
        plan = write_plan_file(basis.plan).encode()
        await _queue(tx, basis, "plan.toml", plan, words.caption(speech, group, 1, 1))
    for name, parts in kinds:
        count = parts.count
        for at, content in enumerate(parts.finished(), start=1):
            told = words.caption(speech, group, at, count)
            numbered = name if count == 1 else name.replace(".", f"-{at}.")
            async with database.transaction() as tx:
                await _queue(tx, basis, numbered, content, told)
    async with database.transaction() as tx:
        await exports.end_export(tx, basis.export.id, basis.now)


async def _queue(tx: Transaction, basis: Basis, name: str, content: bytes, caption: Html) -> None:
    errand = Errand(id=_letter_id(basis, name))
    letter = Letter(
        id=errand.id,
        chat=basis.person.account,
        method="sendDocument",
        arguments={"caption": caption, "parse_mode": "HTML", "protect_content": False},
        priority=errand.priority,
        kind=errand.kind,
        file=Attachment(field="document", name=name, content=content),
    )
    await queue(tx, letter, basis.now)


def _letter_id(basis: Basis, what: str) -> str:
    return f"export/{basis.export.id}/{what}"


def _today(basis: Basis) -> date:
    return local(basis.now, basis.plan.timezone).date()
