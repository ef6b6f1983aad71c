"""One movement decided for everybody: each member's own best, and what the room is called."""

from dataclasses import dataclass

import numpy as np

from core.asking import Next
from core.capacity import Belief, outlook
from core.deciding import NEVER, best, permitted, prospects
from core.doses import Doses, doses
from core.limits import allowed
from core.plan import PlanLine
from core.record import Record
from core.sharing import shared
from core.stating import Statement
from core.suggestion import Option, Suggestion


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One movement's decisions; members in the order of the belief."""

    movement: str
    suggestions: tuple[Suggestion, ...]
    called: tuple[Suggestion, ...]
    options: tuple[Option, ...]
    coming: Next
    """For asking: what each is about to do."""


def decide(belief: Belief, line: PlanLine, history: dict[tuple[str, str], Record]) -> Table:
    offered = doses(line)
    place = belief.frame.place(line.movement.name)
    assert place is not None
    of_it = [history[member, line.movement.name] for member in belief.members]
    limits = np.array([allowed(line, offered, each) for each in of_it])
    view = outlook(belief, place)
    seen = prospects(line, offered, view)
    may = permitted(seen, limits)
    usual = np.array([_usual(line, each) for each in of_it])
    last = np.array([_last(line, offered, each) for each in of_it])
    own = best(line, offered, seen, may, usual, last)
    called = shared(seen, may, limits, own)
    statement = Statement(
        line=line, offered=offered, seen=seen, may=may, history=of_it, members=belief.members
    )
    rows = np.arange(len(own))
    return Table(
        movement=line.movement.name,
        suggestions=statement.suggestions(own),
        called=statement.suggestions(called),
        options=statement.options(called),
        coming=Next(
            rungs=offered.rungs[own],
            strength=view.mean[rows, offered.rungs[own]],
            amount=offered.amount[own],
            load=offered.load[own],
            due=np.array([each.told is None or each.maximal is not None for each in of_it]),
        ),
    )


def _usual(line: PlanLine, record: Record) -> int:
    base = record.last.dose if record.last is not None else line.dose
    return line.movement.rung(base.variation)


def _last(line: PlanLine, offered: Doses, record: Record) -> int:
    if record.last is None:
        return NEVER
    base = record.last.dose
    same = (
        (offered.rungs == line.movement.rung(base.variation))
        & (np.abs(offered.amount - record.done) < 1e-6)
        & (~np.bool_(offered.loaded) | (np.abs(offered.load - (base.load or 1.0)) < 1e-6))
    )
    found = np.flatnonzero(same)
    return int(found[0]) if len(found) else -1
