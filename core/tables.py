"""One movement decided for everybody: each member's own best, and what the room is called."""

from dataclasses import dataclass, replace

import numpy as np

from core.asking import Next
from core.capacity import Belief, outlook
from core.deciding import best, permitted
from core.doses import Doses, doses
from core.limits import Mask, allowed
from core.plan import PlanLine
from core.prospects import Prospects, prospects
from core.record import Record
from core.sharing import shared
from core.stating import Statement
from core.turning import Indices, Within


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One movement's decisions; members in the order of the belief."""

    statement: Statement
    own: Indices
    """Each member's own best of the offered doses."""
    called: Indices
    """The doses that are called out to them."""
    coming: Next
    """For asking: what each is about to do."""

    @property
    def movement(self) -> str:
        """Its name."""
        return self.statement.line.movement.name


def decide(belief: Belief, line: PlanLine, history: dict[tuple[str, str], Record]) -> Table:
    offered = doses(line)
    place = belief.frame.place(line.movement.name)
    assert place is not None
    of_it = [history[member, line.movement.name] for member in belief.members]
    view = outlook(belief, place)
    seen = prospects(line, offered, view, np.array([each.accustomed for each in of_it]))
    usual = np.array([_usual(line, each) for each in of_it])
    last = np.array([_last(line, offered, each) for each in of_it])
    limits, may, own = _chosen(line, offered, seen, of_it, usual, last)
    called = shared(line, seen, may, limits, own)
    statement = Statement(
        line=line, offered=offered, seen=seen, may=may, history=of_it, members=belief.members
    )
    rows = np.arange(len(own))
    return Table(
        statement=statement,
        own=own,
        called=called,
        coming=Next(
            rungs=offered.rungs[own],
            strength=view.mean[rows, offered.rungs[own]],
            amount=offered.amount[own],
            load=offered.load[own],
            due=np.array(
                [
                    _due(line, each, int(rung))
                    for each, rung in zip(of_it, offered.rungs[own], strict=True)
                ]
            ),
        ),
    )


def _chosen(
    line: PlanLine,
    offered: Doses,
    seen: Prospects,
    history: list[Record],
    usual: Indices,
    last: Indices,
) -> tuple[Mask, Mask, Indices]:
    """What each may do, within the limits and safely, and their own best of it.

    A maximal class takes doses away, and what is left could hold a harder one than would have been
    chosen without it; so it's never harder than that.
    """
    calm = [replace(each, maximal=None, spent=False) for each in history]
    limits = np.array([allowed(line, offered, each) for each in calm])
    whole = np.array([allowed(line, offered, _done_in_full(each)) for each in calm])
    may = permitted(offered, seen, limits, usual)
    within = Within(may=may, limits=limits, whole=whole)
    own = best(line, offered, seen, within, usual, last)
    if all(one == other for one, other in zip(calm, history, strict=True)):
        return limits, may, own
    held = np.array([allowed(line, offered, each) for each in history])
    rungs, takes = offered.rungs, seen.takes
    lower = rungs < rungs[own][:, None]
    lower |= (rungs == rungs[own][:, None]) & (takes <= takes[own][:, None])
    capped = held & lower
    capped = np.where(capped.any(axis=1, keepdims=True), capped, held)
    within = Within(may=permitted(offered, seen, capped, usual), limits=capped, whole=whole)
    return (
        held,
        permitted(offered, seen, held, usual),
        best(line, offered, seen, within, usual, last),
    )


def _done_in_full(record: Record) -> Record:
    """The same, had the last bout been done to its end."""
    if record.last is None or not record.last.unfinished:
        return record
    return replace(record, last=replace(record.last, completed=None))


def _due(line: PlanLine, record: Record, rung: int) -> bool:
    """Whether it's time to ask: nothing was told of this variation, or it was maximal."""
    if record.told is None or record.maximal is not None:
        return True
    return line.movement.rung(record.told.dose.variation) != rung


def _usual(line: PlanLine, record: Record) -> int:
    base = record.last.dose if record.last is not None else line.dose
    return line.movement.rung(base.variation)


def _last(line: PlanLine, offered: Doses, record: Record) -> int:
    if record.last is None:
        return -1
    base = record.last.dose
    same = (
        (offered.rungs == line.movement.rung(base.variation))
        & (np.abs(offered.amount - record.done) < 1e-6)
        & (~np.bool_(offered.loaded) | (np.abs(offered.load - (base.load or 1.0)) < 1e-6))
    )
    found = np.flatnonzero(same)
    return int(found[0]) if len(found) else -1
