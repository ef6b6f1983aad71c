"""Short histories of one member, written by hand in tests."""

from datetime import UTC, date, datetime, timedelta

from core.advice import advise
from core.movement import Dose
from core.plan import Plan
from core.reports import Bout, Reports
from core.suggestion import Suggestion
from tests.simulation.plans import SIDE_PLANK, line

MONDAY = date(2026, 3, 2)
PLANKS = Plan(lines=(line(SIDE_PLANK, "feet stacked", 30),), minutes=50, target=7.0, ceiling=9.0)


def bout(
    effort: float | None,
    amount: float = 30,
    *,
    week: int = 0,
    member: str = "Ana",
    variation: str = "feet stacked",
    movement: str = "Side plank",
    load: float | None = None,
    completed: float | None = None,
    reserve: float | None = None,
) -> Bout:
    """One bout of a weekly class."""
    on = MONDAY + timedelta(weeks=week)
    return Bout(
        member=member,
        session=f"week {week:02}",
        on=on,
        said_at=datetime(on.year, on.month, on.day, 20, tzinfo=UTC),
        movement=movement,
        dose=Dose(variation=variation, amount=amount, load=load),
        completed=completed,
        effort=effort,
        reserve=reserve,
    )


def next_time(
    *bouts: Bout, plan: Plan = PLANKS, days: int = 7, reports: Reports | None = None
) -> Suggestion:
    """What the member of the last bout is told of its movement, so many days after it."""
    last = bouts[-1]
    said = reports or Reports(bouts=bouts)
    advice = advise(plan, said, (last.member,), last.on + timedelta(days=days))
    return next(each for each in advice.suggestions if each.movement == last.movement)


def lift(suggestion: Suggestion) -> float:
    """How much of one variation it is: the amount, or what it is worth as a single lift."""
    dose = suggestion.dose
    return dose.amount if dose.load is None else dose.load * (1 + dose.amount / 30)
