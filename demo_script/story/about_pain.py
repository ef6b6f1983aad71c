"""Did a pain reach the instructor at once, and was its movement left alone until cleared?"""

from core.movement import Dose
from core.suggestion import Change
from core.watching import AlertKind
from demo_script.story.about_alerts import told_alerts
from demo_script.story.finding import Finding, People
from demo_script.story.tale import Tale


async def told_at_once(tale: Tale, people: People) -> Finding:
    """The alert is there as soon as the button is tapped."""
    said = next(each for each in tale.ledger.given if each.word == "pain")
    of_pain = {
        each.id
        for each in await told_alerts(tale)
        if each.fact.kind is AlertKind.PAIN and people.name(each.fact.member) == said.member
    }
    told = [tale.witness.sights[place] for place in said.reactions]
    reached = [each for each in told if each.kind == "message" and each.alerts & of_pain]
    return Finding(
        name="the instructor was told of the pain at once",
        holds=len(reached) == 1,
        evidence=f"{said.member}, week {said.week}: {len(reached)} message to the instructor when "
        f"{said.looked} was tapped, before anything else happened",
    )


async def no_harder_until_cleared(tale: Tale, people: People) -> Finding | None:
    """Neither variation, amount nor load went up as long as one of the two had not cleared it."""
    script = tale.script
    weeks = range(script.hurts, min(script.heals, script.weeks) + 1)
    if len(weeks) < 2:
        return None
    name = next(actor.name for actor in tale.cast if actor.habits.hurts)
    doses = {}
    changes = []
    for week in weeks:
        told = next(
            each for each in tale.ledger.told[week, name] if each.movement == script.painful
        )
        doses[week] = told.dose
        changes.append(told.change)
    before = doses[script.hurts]
    held = all(_no_harder(tale, doses[week], before) for week in weeks[1:])
    healed = tale.half_cleared is True and tale.healed_at is not None
    listed = ", ".join(f"week {week}: {_in_words(dose)}" for week, dose in doses.items())
    return Finding(
        name="the movement got no harder until both had cleared it",
        holds=held and Change.HARDER not in changes[1:] and healed,
        evidence=f"{name}, {script.painful}, {listed}; still held after the member cleared it: "
        f"{tale.half_cleared}; released when the instructor had: {tale.healed_at is not None}",
    )


def _no_harder(tale: Tale, dose: Dose, before: Dose) -> bool:
    line = tale.plan.plan.line(tale.script.painful)
    if line is None:
        return False
    rung, rung_before = (line.movement.rung(each.variation) for each in (dose, before))
    if rung != rung_before:
        return rung < rung_before
    return dose.amount <= before.amount and (dose.load or 0) <= (before.load or 0)


def _in_words(dose: Dose) -> str:
    load = "" if dose.load is None else f" at {dose.load:g} kg"
    return f"{dose.sets} × {dose.amount:g}{load} {dose.variation}"
