"""Everything that the answers say about a group's next session, in one pure call."""

from datetime import date

from core.asking import asks
from core.capacity import Belief, begin, take_in
from core.movement import Dose
from core.plan import Plan
from core.record import records
from core.reports import Reports
from core.stating import options_of
from core.suggestion import Advice
from core.tables import Table, decide


def advise(
    plan: Plan, reports: Reports, members: tuple[str, ...], on: date, ask: int = 2
) -> Advice:
    """Suggest to every member one dose per line of the plan for the session on that local day."""
    if not members:
        return Advice(suggestions=(), options=(), called=(), asks=())
    settled = reports.settled()
    belief = believe(plan, settled, members, on)
    return advise_from(belief, plan, settled, members, on, ask)


def believe(plan: Plan, reports: Reports, members: tuple[str, ...], on: date) -> Belief:
    """The belief on a day, from settled reports."""
    return take_in(begin(plan, members), reports, on).on(on)


def advise_from(
    belief: Belief, plan: Plan, reports: Reports, members: tuple[str, ...], on: date, ask: int = 2
) -> Advice:
    """The same from a belief that is already known; `reports` are settled."""
    if not members:
        return Advice(suggestions=(), options=(), called=(), asks=())
    tables = _tables(belief, plan, reports, on)
    suggestions = {
        (s.member, s.movement): s for each in tables for s in each.statement.suggestions(each.own)
    }
    called = {
        (s.member, s.movement): s
        for each in tables
        for s in each.statement.suggestions(each.called)
    }
    order = [(member, line.movement.name) for member in members for line in plan.lines]
    all_called = tuple(called[each] for each in order)
    return Advice(
        suggestions=tuple(suggestions[each] for each in order),
        options=options_of(plan, all_called),
        called=all_called,
        asks=asks(belief, {each.movement: each.coming for each in tables}, members, ask),
    )


def called_doses(
    belief: Belief, plan: Plan, reports: Reports, on: date
) -> dict[tuple[str, str], Dose]:
    """By member and movement, the doses of `advise_from` that are called out, without the why.

    `reports` are settled.
    """
    return {
        (member, each.movement): each.statement.offered.dose(int(at))
        for each in _tables(belief, plan, reports, on)
        for member, at in zip(belief.members, each.called, strict=True)
    }


def _tables(belief: Belief, plan: Plan, reports: Reports, on: date) -> list[Table]:
    variations = {
        line.movement.name: frozenset(each.name for each in line.movement.ladder)
        for line in plan.lines
    }
    history = records(reports, belief.members, variations, on)
    return [decide(belief, line, history) for line in plan.lines]
