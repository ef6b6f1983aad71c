"""How it begins: the bot is claimed, gets its plan, and the members join."""

import re
from datetime import timedelta

from bot.buttons import JoinButton
from core.movement import Measure
from core.plan import PlanLine
from demo_script.bodies import can_just_do
from demo_script.cast import Actor
from demo_script.stand_in import Person
from demo_script.story.screen import carried
from demo_script.story.standing import say_where_they_stand
from demo_script.story.tale import Tale
from demo_script.telling import several
from demo_script.theatre import OWNER_CODE

PLAN_NAME = "harbour_hall.toml"
BETWEEN = timedelta(minutes=4)  # so that they always join in the same order
SHOWN = ("Side plank", "Push-up", "Squat with a weight")
"""Movements whose hidden capacities the programme names."""
UNITS = {
    Measure.HOLD: "s",
    Measure.REPS: "times",
    Measure.LOAD: "kg once",
    Measure.MINUTES: "min",
}


async def open_doors(tale: Tale) -> None:
    """From the first start to a whole class."""
    _introduce(tale)
    tale.telling.heading(f"{tale.instructor.name} sets up, and the members join")
    tale.instructor.press_start(OWNER_CODE)
    tale.line(tale.instructor.name, "/start and the owner's code, which only the console shows")
    await tale.settle()
    tale.instructor.send_document(PLAN_NAME, tale.plan_text.encode())
    tale.line(tale.instructor.name, f"sends {PLAN_NAME}")
    await tale.settle(full=True)
    link = newest_link(tale.instructor)
    first, *others = tale.cast
    await _join(tale, first, link)
    for other in others:
        tale.pass_until(tale.now + BETWEEN)
        other.account.open_link(link)
        await tale.settle(hush=True)
        agree(other)
        await tale.settle(hush=True)
        await say_where_they_stand(tale, other)
    tale.line("others", f"{several([each.name for each in others])} do the same.")
    tale.telling.short(tale.now, (tale.instructor.name,), tale.instructor.last_message)


def _introduce(tale: Tale) -> None:
    """The programme, with what nobody in the story knows."""
    tale.telling.heading(f"{tale.plan.name}: {tale.script.weeks} weeks with the real bot")
    lines = [line for line in tale.plan.plan.lines if line.movement.name in SHOWN]
    units = ", ".join(
        f"{line.movement.name} ({line.dose.variation}: {UNITS[line.movement.measure]})"
        for line in lines
    )
    tale.telling.note("Everyone is invented, and what they do and rate is simulated.")
    tale.telling.note(f"Hidden from the bot, what each could just do of {units}:")
    for actor in tale.cast:
        most = "".join(f"{_most(actor, line):5.0f}" for line in lines)
        tale.telling.note(f"{actor.name:<7}{most}   {actor.habits.about}")


def _most(actor: Actor, line: PlanLine) -> float:
    """Seconds or repetitions of the planned variation, or kilograms lifted once."""
    body, name = actor.body, line.movement.name
    if line.movement.measure is Measure.LOAD:
        return body.capacity[name]
    return can_just_do(body.movements[name], line.dose, body.capacity[name], body.nature.law)


async def _join(tale: Tale, actor: Actor, link: str) -> None:
    """The first member reads the terms in full."""
    actor.account.open_link(link)
    tale.line(actor.name, "follows the link")
    await tale.settle(full=True)
    label = agree(actor)
    tale.line(actor.name, f"[{label}]")
    await tale.settle(hush=True)
    tale.telling.short(tale.now, (actor.name,), actor.account.last_message)
    await say_where_they_stand(tale, actor, full=True)


def agree(actor: Actor) -> str:
    """Press yes under the terms; returns what the button says."""
    message = actor.account.last_message
    button, _ = next(pair for pair in carried(message, JoinButton) if pair[1].yes)
    actor.account.press(message, button.data or "")
    return button.label


def newest_link(instructor: Person) -> str:
    """The link that the bot gave last, to be passed on."""
    said = "\n".join(each.text for each in reversed(instructor.messages))
    found = re.search(r"https://t\.me/\S+", said)
    if found is None:
        raise LookupError(f"{instructor.name} got no link to pass on")
    return found[0]
