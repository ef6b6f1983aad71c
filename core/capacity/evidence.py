"""Answers sorted into sessions and movements, as arrays that learning can work through."""

from collections import defaultdict
from dataclasses import dataclass, fields
from datetime import date

import numpy as np
from numpy.typing import NDArray

from core.capacity.frame import Frame, Place
from core.capacity.laws import Numbers, Rows
from core.movement import Measure
from core.reports import Reports, Session, StartingEstimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What members did of one movement in one session; one entry per member."""

    rows: Rows
    rungs: Rows
    amount: Numbers
    load: Numbers
    completed: Numbers
    """Where they stopped; not a number if they did it all."""
    effort: Numbers
    """Not a number if it wasn't rated."""
    reserve: Numbers
    """Not a number if it wasn't asked."""

    @property
    def told(self) -> NDArray[np.bool_]:
        """Of which bouts anything was said besides that they were done."""
        return ~(np.isnan(self.completed) & np.isnan(self.effort) & np.isnan(self.reserve))

    def only(self, which: NDArray[np.bool_]) -> "Work":
        """Some of these bouts."""
        return Work(**{each.name: getattr(self, each.name)[which] for each in fields(self)})


def sessions(reports: Reports, on: date) -> tuple[Session, ...]:
    """Settled reports up to a day, sorted into sessions, oldest first; estimates come first."""
    estimates: dict[date, list[StartingEstimate]] = defaultdict(list)
    for estimate in reports.estimates:
        estimates[estimate.on].append(estimate)
    found = [Session(on=day, name="", estimates=tuple(those)) for day, those in estimates.items()]
    found += reports.by_session()
    in_order = sorted(found, key=lambda each: (each.on, not each.estimates, each.name))
    return tuple(each for each in in_order if each.on <= on)


def work(session: Session, place: Place, row: dict[str, int]) -> Work:
    """One movement's answers of a session; what doesn't fit the plan any more is left out."""
    rungs = {each.name: at for at, each in enumerate(place.movement.ladder)}
    bouts = [
        each
        for each in session.bouts
        if each.movement == place.movement.name
        and each.member in row
        and each.dose.variation in rungs
        and each.dose.amount > 0
    ]
    nothing = np.nan
    return Work(
        rows=np.array([row[each.member] for each in bouts], dtype=np.int64),
        rungs=np.array([rungs[each.dose.variation] for each in bouts], dtype=np.int64),
        amount=np.array([each.dose.amount for each in bouts], dtype=np.float64),
        load=np.array([place.load(each.dose) for each in bouts], dtype=np.float64),
        completed=np.array(
            [each.completed if each.unfinished else nothing for each in bouts], dtype=np.float64
        ),
        effort=np.array(
            [nothing if each.effort is None else each.effort for each in bouts], dtype=np.float64
        ),
        reserve=np.array(
            [nothing if each.reserve is None else each.reserve for each in bouts],
            dtype=np.float64,
        ),
    )


def attendance(session: Session, row: dict[str, int]) -> Rows:
    """Rows of those who were in this session, as far as is known."""
    present = {each.member for each in session.bouts}
    present |= {each.member for each in session.ratings if each.attended}
    absent = {each.member for each in session.ratings if not each.attended}
    return np.array(sorted(row[each] for each in present - absent if each in row), dtype=np.int64)


def guesses(
    session: Session, frame: Frame, row: dict[str, int]
) -> list[tuple[Place, Rows, Numbers, Numbers]]:
    """Starting estimates by movement: rows, amounts and loads."""
    found = []
    for place in frame.places:
        by_member = {
            each.member: each
            for each in session.estimates
            if each.movement == place.movement.name and each.member in row and each.amount > 0
        }
        said = [by_member[member] for member in sorted(by_member)]
        if place.measure is Measure.LOAD:
            said = [each for each in said if each.load is not None and each.load > 0]
        if said:
            rows = np.array([row[each.member] for each in said], dtype=np.int64)
            amounts = np.array([each.amount for each in said], dtype=np.float64)
            loads = np.array([each.load or 1.0 for each in said], dtype=np.float64)
            found.append((place, rows, amounts, loads))
    return found
