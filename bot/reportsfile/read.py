"""Reading a reports file: facts for the core, or everything that is wrong, cell by cell."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from bot.errors import BadInput, Problem
from bot.reportsfile.cells import (
    Unreadable,
    day_of,
    effort_of,
    line_of,
    load_of,
    member_of,
    number_in,
    symptom_of,
    variation_of,
)
from bot.reportsfile.sheet import Row, rows_of
from core.movement import Dose, Measure
from core.plan import Plan, PlanLine
from core.reports import Bout, Reports, SessionRating, StartingEstimate, Symptom, SymptomKind

MOST_BYTES = 64 * 1024 * 1024
"""About a million lines: decades of a large class."""
MOST_PROBLEMS = 50

Fact = SessionRating | Bout | StartingEstimate | Symptom


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportsFile:
    """What a reports file says."""

    reports: Reports
    members: tuple[str, ...]
    """In the order in which they first appear."""


def read_reports_file(text: str | bytes, where: str, plan: Plan) -> ReportsFile:
    """Everything that was reported; BadInput listing all problems by line and column.

    Of two rows about the same thing the later one counts. A movement row without variation, amount
    or load means the plan's; one that says nothing at all only names a member.
    """
    facts: list[Fact] = []
    members: dict[str, None] = {}
    problems: list[Problem] = []
    for number, row in enumerate(rows_of(_text(text, where), where)):
        if len(problems) >= MOST_PROBLEMS:
            break
        try:
            if isinstance(row, Problem):
                raise Unreadable(row)
            members.setdefault(member_of(row))
            fact = _fact(row, number, plan)
        except Unreadable as found:
            problems.append(found.problem)
            continue
        if fact is not None:
            facts.append(fact)
    if problems:
        raise BadInput(tuple(problems))
    return ReportsFile(reports=_sorted_out(facts), members=tuple(members))


def _text(text: str | bytes, where: str) -> str:
    size = len(text)
    if size > MOST_BYTES:
        expected = f"at most {MOST_BYTES // 1024**2} MB"
        raise BadInput((Problem(where=where, wrong=f"{size} bytes", expected=expected),))
    try:
        plain = text if isinstance(text, str) else text.decode()
    except UnicodeDecodeError as refused:
        line = refused.object.count(b"\n", 0, refused.start) + 1
        wrong = "characters that aren't UTF-8"
        raise BadInput(
            (Problem(where=f"{where}, line {line}", wrong=wrong, expected="UTF-8 text"),)
        ) from None
    return plain.removeprefix("\ufeff")


def _sorted_out(facts: Iterable[Fact]) -> Reports:
    kept = tuple(facts)
    return Reports(
        ratings=tuple(each for each in kept if isinstance(each, SessionRating)),
        bouts=tuple(each for each in kept if isinstance(each, Bout)),
        estimates=tuple(each for each in kept if isinstance(each, StartingEstimate)),
        symptoms=tuple(each for each in kept if isinstance(each, Symptom)),
    )


def _fact(row: Row, number: int, plan: Plan) -> Fact | None:
    """What one row says; None if it says nothing."""
    day = day_of(row)
    # Rows have no time of day. Noon and the row's place keep "a later one replaces it" true.
    said_at = datetime.combine(day, time(12), UTC) + timedelta(microseconds=number)
    kind = symptom_of(row)
    if kind is not None:
        return _symptom(row, day, said_at, kind, plan)
    if not row.cells["movement"]:
        return _session(row, day, said_at, plan)
    line = line_of(row, plan)
    said = ("variation", "amount", "completed", "effort", "reserve")
    if not any(row.cells[each] for each in said):
        return None
    if number_in(row, "amount") == 0:
        return _estimate(row, day, line)
    return _bout(row, day, said_at, line)


def _session(row: Row, day: date, said_at: datetime, plan: Plan) -> SessionRating:
    for column in ("variation", "amount", "load", "reserve"):
        if row.cells[column]:
            raise Unreadable(row.problem(column, "nothing in a row about the whole session"))
    effort, completed = effort_of(row), number_in(row, "completed")
    if completed is not None and (completed > 0 or effort is not None):
        expected = "0 for somebody who wasn't there, without a rating, or nothing"
        raise Unreadable(row.problem("completed", expected))
    return SessionRating(
        member=row.cells["member"],
        session=day.isoformat(),
        on=day,
        said_at=said_at,
        attended=completed is None,
        effort=effort,
        minutes=plan.minutes,
    )


def _symptom(row: Row, day: date, said_at: datetime, kind: SymptomKind, plan: Plan) -> Symptom:
    for column in ("variation", "amount", "load", "completed", "reserve"):
        if row.cells[column]:
            raise Unreadable(row.problem(column, "nothing in a row about what hurts"))
    movement = line_of(row, plan).movement.name if row.cells["movement"] else None
    return Symptom(
        member=row.cells["member"], kind=kind, on=day, said_at=said_at, movement=movement
    )


def _estimate(row: Row, day: date, line: PlanLine) -> StartingEstimate:
    movement = line.movement
    if row.cells["variation"] and variation_of(row, line) != movement.standard:
        expected = f'the standard variation "{movement.standard}" in a starting estimate'
        raise Unreadable(row.problem("variation", expected))
    for column in ("completed", "effort"):
        if row.cells[column]:
            raise Unreadable(row.problem(column, "nothing in a starting estimate (amount 0)"))
    could_do = number_in(row, "reserve")
    if not could_do:
        expected = "what they could just do, above 0, since the amount is 0"
        raise Unreadable(row.problem("reserve", expected))
    load = load_of(row, line)
    if movement.measure is Measure.LOAD and load is None:
        raise Unreadable(row.problem("load", "kilograms, since the measure is load"))
    return StartingEstimate(
        member=row.cells["member"], movement=movement.name, on=day, amount=could_do, load=load
    )


def _bout(row: Row, day: date, said_at: datetime, line: PlanLine) -> Bout:
    amount = number_in(row, "amount") or line.dose.amount
    completed = number_in(row, "completed")
    if completed is not None and completed > amount:
        raise Unreadable(row.problem("completed", f"at most the amount, {amount:g}"))
    load = load_of(row, line)
    dose = Dose(
        variation=variation_of(row, line),
        amount=amount,
        load=line.dose.load if load is None else load,
        sets=line.dose.sets,
    )
    return Bout(
        member=row.cells["member"],
        session=day.isoformat(),
        on=day,
        said_at=said_at,
        movement=line.movement.name,
        dose=dose,
        completed=completed if completed != amount else None,
        effort=effort_of(row),
        reserve=number_in(row, "reserve"),
    )
