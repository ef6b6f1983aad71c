"""Everything that the answers say about a group's next session, in one pure call."""

from datetime import date

from core import rules
from core.movement import Dose, Movement
from core.plan import Plan, PlanLine
from core.reports import Bout, Reports, SymptomKind
from core.suggestion import Advice, Ask, Change, Option, Reason, ReasonKind, Suggestion


def advise(
    plan: Plan, reports: Reports, members: tuple[str, ...], on: date, ask: int = 2
) -> Advice:
    """Suggest to every member one dose per line of the plan for the session on that local day."""
    settled = reports.settled()
    table = {
        (member, line.movement.name): _suggest(line, settled, member, on)
        for member in members
        for line in plan.lines
    }
    options = tuple(
        option
        for line in plan.lines
        for option in _options(line, [table[member, line.movement.name] for member in members])
    )
    called = tuple(
        _called(suggestion, options, plan.line(suggestion.movement))
        for suggestion in table.values()
    )
    asks = tuple(_ask(plan, settled, member, min(ask, rules.MOST_ASKED)) for member in members)
    return Advice(suggestions=tuple(table.values()), options=options, called=called, asks=asks)


def _suggest(line: PlanLine, reports: Reports, member: str, on: date) -> Suggestion:
    movement = line.movement
    bouts = [
        each
        for each in reports.bouts
        if each.member == member and each.movement == movement.name and each.on <= on
    ]
    rated = [each for each in bouts if each.effort is not None or each.unfinished]
    if not bouts:
        amount = _friendly(movement, line.dose.amount * rules.EASIER_START)
        dose = Dose(
            variation=line.dose.variation, amount=amount, load=line.dose.load, sets=line.dose.sets
        )
        change = Change.EASIER if amount < line.dose.amount else Change.SAME
        return _suggestion(line, member, dose, 6.0, change, Reason(kind=ReasonKind.NOT_KNOWN))
    last = bouts[-1]
    done = last.completed if last.unfinished and last.completed is not None else last.dose.amount
    source = rated[-1] if rated else last
    effort = 10.0 if source.unfinished else source.effort
    wanted = done if effort is None else done * line.target / max(effort, 1.0)
    highest = max(done * rules.LARGEST_RAISE, done + movement.step)
    days = (on - max(each.on for each in bouts)).days
    reason = Reason(
        kind=ReasonKind.UNFINISHED if source.unfinished else ReasonKind.RATING,
        on=source.on,
        dose=source.dose,
        effort=source.effort,
        completed=source.completed,
        reserve=source.reserve,
    )
    if effort is not None and effort >= rules.MAXIMAL_EFFORT:
        highest = done
    if _frozen(reports, member, movement.name):
        highest, reason = done, Reason(kind=ReasonKind.PAIN)
    if days >= rules.BREAK_DAYS:
        highest = done * 0.8
        reason = Reason(kind=ReasonKind.BREAK, days_away=days)
    amount = _friendly(movement, min(wanted, highest))
    dose = Dose(
        variation=last.dose.variation, amount=amount, load=last.dose.load, sets=line.dose.sets
    )
    change = Change.SAME if amount == done else Change.HARDER if amount > done else Change.EASIER
    expected = min(10.0, (effort or line.target) * amount / done)
    return _suggestion(line, member, dose, expected, change, reason)


def _suggestion(
    line: PlanLine, member: str, dose: Dose, expected: float, change: Change, reason: Reason
) -> Suggestion:
    movement = line.movement
    rung = movement.rung(dose.variation)
    alternative = None
    if rung > 0:
        alternative = Dose(
            variation=movement.ladder[rung - 1].name,
            amount=dose.amount,
            load=dose.load,
            sets=dose.sets,
        )
    return Suggestion(
        member=member,
        movement=movement.name,
        dose=dose,
        expected_effort=expected,
        chance_over_ceiling=min(1.0, max(0.0, (expected - 5) / 20)),
        change=change,
        reason=reason,
        alternative=alternative,
    )


def _friendly(movement: Movement, amount: float) -> float:
    steps = int((amount + 1e-9) / movement.step)
    return min(max(steps * movement.step, movement.smallest), movement.largest)


def _frozen(reports: Reports, member: str, movement: str) -> bool:
    return any(
        each.member == member
        and each.open
        and each.kind is not SymptomKind.SORENESS
        and each.movement in (None, movement)
        for each in reports.symptoms
    )


def _options(line: PlanLine, suggestions: list[Suggestion]) -> tuple[Option, ...]:
    by_dose: dict[Dose, list[str]] = {}
    for each in sorted(suggestions, key=lambda each: each.dose.amount):
        by_dose.setdefault(each.dose, []).append(each.member)
    doses = list(by_dose)
    groups: list[tuple[Dose, list[str]]] = []
    for place, dose in enumerate(doses):
        if len(groups) < 3 and place % max(1, -(-len(doses) // 3)) == 0:
            groups.append((dose, []))
        groups[-1][1].extend(by_dose[dose])
    return tuple(
        Option(movement=line.movement.name, dose=dose, members=tuple(sorted(names)))
        for dose, names in groups
    )


def _called(
    suggestion: Suggestion, options: tuple[Option, ...], line: PlanLine | None
) -> Suggestion:
    dose = next(
        each.dose
        for each in options
        if each.movement == suggestion.movement and suggestion.member in each.members
    )
    if dose == suggestion.dose or line is None:
        return suggestion
    return _suggestion(
        line,
        suggestion.member,
        dose,
        suggestion.expected_effort,
        Change.EASIER,
        suggestion.reason,
    )


def _ask(plan: Plan, reports: Reports, member: str, most: int) -> Ask:
    heard: dict[str, int] = {line.movement.name: 0 for line in plan.lines}
    for bout in reports.bouts:
        if bout.member == member and bout.movement in heard and _answers(bout):
            heard[bout.movement] += 1
    names = tuple(sorted(heard, key=lambda name: heard[name])[:most])
    return Ask(member=member, movements=names, reserve=names[:1])


def _answers(bout: Bout) -> bool:
    return bout.effort is not None or bout.unfinished
