"""What can be done to a plan in progress, one tap at a time; None where a plan file may not."""

from dataclasses import replace
from math import sqrt

from bot.planfile.draft import Draft, is_right, problems_with
from bot.planfile.read import MOST_MOVEMENTS
from core.library import Ladder
from core.movement import Dose, Measure, Movement
from core.plan import PlanLine

FIRST_LOAD_STEPS = 4
"""Steps of load that a movement begins with: light enough to be changed in peace."""
FIRST_SETS = 2


def with_day(draft: Draft, day: int, *, on: bool) -> Draft:
    """The draft with a day of the week more or less."""
    days = {*draft.days, day} if on else {*draft.days} - {day}
    return replace(draft, days=tuple(sorted(days)))


def with_movement(draft: Draft, ladder: Ladder) -> Draft | None:
    """The draft with a movement of the library at its end; as it was if it's there already."""
    if draft.plan.line(ladder.name) is not None:
        return draft
    if len(draft.lines) >= MOST_MOVEMENTS:
        return None
    movement = Movement(
        name=ladder.name,
        measure=ladder.measure,
        ladder=ladder.variations,
        standard=ladder.standard,
        smallest=ladder.smallest,
        largest=ladder.largest,
        step=ladder.step,
        load_step=ladder.load_step,
    )
    line = PlanLine(
        movement=movement,
        dose=first_dose(movement),
        target=draft.target,
        ceiling=draft.ceiling,
    )
    return replace(draft, lines=(*draft.lines, line))


def first_dose(movement: Movement) -> Dose:
    """Where to begin: the standard variation, and an amount as far from both ends of its range."""
    middle = sqrt(movement.smallest * movement.largest)
    amount = min(round(middle / movement.step) * movement.step, movement.largest)
    return Dose(
        variation=movement.standard,
        amount=max(amount, movement.smallest),
        load=None if movement.load_step is None else FIRST_LOAD_STEPS * movement.load_step,
        sets=1 if movement.measure is Measure.MINUTES else FIRST_SETS,
    )


def with_dose(draft: Draft, movement: str, dose: Dose) -> Draft | None:
    """The draft with another dose of a movement."""
    line = draft.plan.line(movement)
    return None if line is None else _with_line(draft, replace(line, dose=dose))


def aimed_at(draft: Draft, target: float, movement: str | None = None) -> Draft | None:
    """The draft with another target, of one movement or of the whole class.

    Movements that had the target of the class go along with it.
    """
    if movement is not None:
        line = draft.plan.line(movement)
        return None if line is None else _with_line(draft, replace(line, target=target))
    if not is_right(target=target, ceiling=draft.ceiling):
        return None
    along = tuple(
        replace(each, target=target) if each.target == draft.target else each
        for each in draft.lines
    )
    return replace(draft, target=target, lines=along)


def moved_to(draft: Draft, movement: str, place: int) -> Draft | None:
    """The draft with a movement at another place, counted from 0."""
    line = draft.plan.line(movement)
    if line is None:
        return None
    others = [each for each in draft.lines if each is not line]
    others.insert(place, line)
    return replace(draft, lines=tuple(others))


def without(draft: Draft, movement: str) -> Draft:
    """The draft without a movement."""
    left = tuple(each for each in draft.lines if each.movement.name != movement)
    return replace(draft, lines=left)


def _with_line(draft: Draft, line: PlanLine) -> Draft | None:
    if problems_with(line, draft):
        return None
    name = line.movement.name
    lines = tuple(line if each.movement.name == name else each for each in draft.lines)
    return replace(draft, lines=lines)
