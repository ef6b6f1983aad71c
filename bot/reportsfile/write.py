"""Writing a reports file: rows that read back to the same facts, and safe to open anywhere."""

import csv
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from io import StringIO

from bot.reportsfile.sheet import COLUMNS, safe
from core.names import LONGEST_NAME
from core.plan import Plan
from core.reports import Bout, Reports, SessionRating, StartingEstimate, Symptom, SymptomKind

Cells = tuple[str, ...]

ABSENT = "0"
"""In the column `completed` of a row about a whole session: they did nothing of it."""


def distinct(names: Iterable[str]) -> tuple[str, ...]:
    """The names, in order, each of them once: of those that are equal, the later get a number."""
    taken: set[str] = set()
    told = []
    for name in names:
        number, unique = 1, name
        while unique in taken:
            number += 1
            mark = f" ({number})"
            unique = name[: LONGEST_NAME - len(mark)].rstrip() + mark
        taken.add(unique)
        told.append(unique)
    return tuple(told)


def written(rows: Iterable[Cells]) -> str:
    """Rows as lines of CSV, every cell quoted and none of them a formula."""
    text = StringIO(newline="")
    sheet = csv.writer(text, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    sheet.writerows([safe(cell) for cell in row] for row in rows)
    return text.getvalue()


def header() -> Cells:
    """The first row."""
    return COLUMNS


def names_only(names: Iterable[str], plan: Plan, on: date) -> Iterator[Cells]:
    """Rows that say nothing but who takes part, and in which order."""
    movement = plan.lines[0].movement.name
    for name in names:
        yield (name, on.isoformat(), movement, "", "", "", "", "", "")


def rows_of(reports: Reports, names: Mapping[str, str], plan: Plan) -> Iterator[Cells]:
    """What settled reports say of these members, as far as this plan has to do with it.

    Whoever did only what the plan no longer knows was there all the same.
    """
    ladders = {line.movement.name: line.movement.ladder for line in plan.lines}
    rated = {each.about for each in reports.ratings}
    for rating in reports.ratings:
        if rating.member in names:
            yield _session(rating, names[rating.member])
    for bout in reports.bouts:
        if bout.member not in names:
            continue
        ladder = ladders.get(bout.movement, ())
        weightless = bout.dose.load is not None and bout.dose.load <= 0
        if bout.dose.variation in {each.name for each in ladder} and not weightless:
            yield _bout(bout, names[bout.member])
        elif (bout.member, bout.session) not in rated:
            rated.add((bout.member, bout.session))
            yield (names[bout.member], bout.on.isoformat(), "", "", "", "", "", "", "")
    for estimate in reports.estimates:
        if estimate.member in names and estimate.movement in ladders:
            yield _estimate(estimate, names[estimate.member])
    for symptom in reports.symptoms:
        known = symptom.movement is None or symptom.movement in ladders
        if symptom.member in names and known and _holds(symptom):
            yield _symptom(symptom, names[symptom.member])


def _session(rating: SessionRating, name: str) -> Cells:
    completed = "" if rating.attended else ABSENT
    day, effort = rating.on.isoformat(), _number(rating.effort)
    return (name, day, "", "", "", "", completed, effort, "")


def _bout(bout: Bout, name: str) -> Cells:
    return (
        name,
        bout.on.isoformat(),
        bout.movement,
        bout.dose.variation,
        _number(bout.dose.amount),
        _number(bout.dose.load),
        _number(bout.completed) if bout.unfinished else "",
        _number(bout.effort),
        _number(bout.reserve),
    )


def _estimate(estimate: StartingEstimate, name: str) -> Cells:
    load, could_do = _number(estimate.load), _number(estimate.amount)
    return (name, estimate.on.isoformat(), estimate.movement, "", "0", load, "", "", could_do)


def _symptom(symptom: Symptom, name: str) -> Cells:
    where = None if symptom.kind is SymptomKind.WARNING else symptom.movement
    day = symptom.on.isoformat()
    return (name, day, where or "", "", "", "", "", symptom.kind.value, "")


def _holds(symptom: Symptom) -> bool:
    return symptom.open and symptom.kind is not SymptomKind.SORENESS


def _number(number: float | None) -> str:
    """Every digit that it has, so that it reads back to itself."""
    if number is None:
        return ""
    return str(int(number)) if number == int(number) else repr(float(number))
