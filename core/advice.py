"""Everything that the answers say about a group's next session, in one pure call."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.asking import Next, asks
from core.capacity import Belief, first_belief, learn, outlook, sessions, wait
from core.deciding import Prospects, best, permitted, prospects
from core.doses import Doses, doses
from core.limits import Mask, allowed
from core.movement import Dose
from core.options import NobodyServes, choose
from core.plan import Plan, PlanLine
from core.reasons import reason
from core.record import Record, records
from core.reports import Reports
from core.suggestion import Advice, Change, Option, Suggestion


def advise(
    plan: Plan, reports: Reports, members: tuple[str, ...], on: date, ask: int = 2
) -> Advice:
    """Suggest to every member one dose per line of the plan for the session on that local day."""
    settled = reports.settled()
    belief = believe(plan, settled, members, on)
    return advise_from(belief, plan, settled, members, on, ask)


def believe(plan: Plan, reports: Reports, members: tuple[str, ...], on: date) -> Belief:
    """The belief on a day, from settled reports."""
    belief = first_belief(plan, members)
    for session in sessions(reports, on):
        belief = learn(belief, session)
    return wait(belief, on)


def advise_from(
    belief: Belief, plan: Plan, reports: Reports, members: tuple[str, ...], on: date, ask: int = 2
) -> Advice:
    """The same from a belief that is already known; `reports` are settled."""
    variations = {
        line.movement.name: frozenset(each.name for each in line.movement.ladder)
        for line in plan.lines
    }
    history = records(reports, belief.members, variations, on)
    tables = [_decide(belief, line, history) for line in plan.lines]
    suggestions = {(s.member, s.movement): s for table in tables for s in table.suggestions}
    called = {(s.member, s.movement): s for table in tables for s in table.called}
    order = [(member, line.movement.name) for member in members for line in plan.lines]
    return Advice(
        suggestions=tuple(suggestions[each] for each in order),
        options=tuple(option for table in tables for option in table.options),
        called=tuple(called[each] for each in order),
        asks=asks(
            belief,
            {
                line.movement.name: table.coming
                for line, table in zip(plan.lines, tables, strict=True)
            },
            members,
            ask,
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One movement's decisions."""

    suggestions: tuple[Suggestion, ...]
    called: tuple[Suggestion, ...]
    options: tuple[Option, ...]
    coming: Next
    """For asking: what each is about to do."""


def _decide(belief: Belief, line: PlanLine, history: dict[tuple[str, str], Record]) -> Table:
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
    shared = _room(seen, may, limits, own)
    writer = _Writer(
        line=line, offered=offered, seen=seen, may=may, history=of_it, members=belief.members
    )
    rows = np.arange(len(own))
    return Table(
        suggestions=writer.write(own),
        called=writer.write(shared),
        options=writer.options(shared),
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
        return -1
    base = record.last.dose
    same = (
        (offered.rungs == line.movement.rung(base.variation))
        & (np.abs(offered.amount - record.done) < 1e-6)
        & (~np.bool_(offered.loaded) | (np.abs(offered.load - (base.load or 1.0)) < 1e-6))
    )
    found = np.flatnonzero(same)
    return int(found[0]) if len(found) else -1


def _room(seen: Prospects, may: Mask, limits: Mask, own: NDArray[np.int64]) -> NDArray[np.int64]:
    """What each does when the room is called at most three doses."""
    rows = np.arange(len(own))
    if not len(rows):
        return own
    loss = np.maximum(seen.worth[rows, own][:, None] - seen.worth, 0.0)
    looked = _worth_a_look(np.where(may, loss, np.inf), own)
    price = rules.PRICE_OF_AN_OPTION * len(rows)
    try:
        choice = choose(np.where(may, loss, np.inf)[:, looked], price=price)
    except NobodyServes:  # the limits are never passed; the chance over the ceiling has to give
        choice = choose(np.where(limits, loss + 10 * seen.over, np.inf), price=price)
        return np.array(choice.assigned)
    return np.asarray(looked[np.array(choice.assigned)])


def _worth_a_look(loss: NDArray[np.float64], own: NDArray[np.int64]) -> NDArray[np.int64]:
    """Doses that may be among the options: what is best for somebody or good for many.

    With some doses, that everybody may do, among them, so that there is something for everyone.
    """
    good = np.minimum(loss, 1.0).sum(axis=0)
    for_all = np.flatnonzero(np.isfinite(loss).all(axis=0))
    near = np.argsort(good, kind="stable")[: rules.MOST_LOOKED_AT]
    safe = for_all[np.argsort(good[for_all], kind="stable")[:3]]
    return np.unique(np.concatenate([own, near, safe]))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Writer:
    """Turns decided indices into suggestions and options."""

    line: PlanLine
    offered: Doses
    seen: Prospects
    may: Mask
    history: list[Record]
    members: tuple[str, ...]

    def write(self, chosen: NDArray[np.int64]) -> tuple[Suggestion, ...]:
        """One suggestion per member, for the dose decided on."""
        return tuple(self._one(row, int(at)) for row, at in enumerate(chosen))

    def options(self, chosen: NDArray[np.int64]) -> tuple[Option, ...]:
        """The doses called out, easiest first, with their members."""
        order = sorted(
            set(chosen.tolist()),
            key=lambda at: (float(np.median(self.seen.effort[:, at])), at),
        )
        return tuple(
            Option(
                movement=self.line.movement.name,
                dose=self.offered.dose(at),
                members=tuple(
                    member for member, own in zip(self.members, chosen, strict=True) if own == at
                ),
            )
            for at in order
        )

    def _one(self, row: int, at: int) -> Suggestion:
        record = self.history[row]
        return Suggestion(
            member=self.members[row],
            movement=self.line.movement.name,
            dose=self.offered.dose(at),
            expected_effort=round(float(self.seen.effort[row, at]), 2),
            chance_over_ceiling=round(float(self.seen.over[row, at]), 4),
            change=self._change(record, at),
            reason=reason(record),
            alternative=self._alternative(row, at),
        )

    def _change(self, record: Record, at: int) -> Change:
        """Against what was last really done; against the plan before the first time."""
        movement = self.line.movement
        base = record.last.dose if record.last is not None else self.line.dose
        done = record.done if record.last is not None else base.amount
        rung = movement.rung(base.variation)
        step = int(self.offered.rungs[at]) - rung
        if step:
            return Change.HARDER if step > 0 else Change.EASIER
        load = base.load or 1.0 if self.offered.loaded else 1.0
        ours = float(self.offered.load[at]) * (1 + float(self.offered.amount[at]) / 30)
        theirs = load * (1 + done / 30)
        if abs(ours - theirs) < 1e-9:
            return Change.SAME
        return Change.HARDER if ours > theirs else Change.EASIER

    def _alternative(self, row: int, at: int) -> Dose | None:
        """The best dose on a neighbouring rung; the easier one where both would do."""
        rung = int(self.offered.rungs[at])
        worth = np.where(self.may[row], self.seen.in_range[row], -np.inf)
        for other in (rung - 1, rung + 1):
            there = np.where(self.offered.rungs == other, worth, -np.inf)
            found = int(there.argmax()) if len(there) else 0
            near = abs(self.seen.effort[row, found] - self.line.target) <= 2 * rules.HALF_RANGE
            if np.isfinite(there[found]) and near:
                return self.offered.dose(found)
        return None
