"""Everything that the answers say about a group's next session, in one pure call."""

from datetime import date

from core.asking import asks
from core.capacity import Belief, begin, take_in
from core.plan import Plan
from core.record import records
from core.reports import Reports
from core.suggestion import Advice
from core.tables import decide


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
    variations = {
        line.movement.name: frozenset(each.name for each in line.movement.ladder)
        for line in plan.lines
    }
    history = records(reports, belief.members, variations, on)
    tables = [decide(belief, line, history) for line in plan.lines]
    suggestions = {(s.member, s.movement): s for table in tables for s in table.suggestions}
    called = {(s.member, s.movement): s for table in tables for s in table.called}
    order = [(member, line.movement.name) for member in members for line in plan.lines]
    return Advice(
        suggestions=tuple(suggestions[each] for each in order),
        options=tuple(option for table in tables for option in table.options),
        called=tuple(called[each] for each in order),
        asks=asks(belief, {each.movement: each.coming for each in tables}, members, ask),
    )
