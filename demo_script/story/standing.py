"""How newcomers say where they stand: a rough guess for each movement, or nothing at all."""

from math import log

from bot.buttons import EstimateButton
from core.guessing import offers
from core.movement import Measure
from core.plan import PlanLine
from core.repetitions import epley
from demo_script.cast import Actor
from demo_script.story.screen import carried
from demo_script.story.tale import Tale

LAZY = 0.5
"""Share of answers below which nobody bothers."""


async def say_where_they_stand(tale: Tale, actor: Actor, *, full: bool = False) -> None:
    """Tap through the questions under the welcome; whoever hardly ever answers leaves them."""
    if actor.habits.answers < LAZY:
        return
    said = []
    _press(actor, _buttons(actor)[0])
    await tale.settle(hush=not full, full=full)
    for line in tale.plan.plan.lines:
        offer = _nearest(actor, line)
        button = next(each for each in _buttons(actor) if each.offer == offer)
        said.append(f"{line.movement.name} [{_press(actor, button)}]")
        await tale.settle(hush=True)
    if full:
        tale.line(actor.name, " · ".join(said))
        tale.telling.short(tale.now, (actor.name,), actor.account.last_message)


def _nearest(actor: Actor, line: PlanLine) -> int:
    """The offer that is nearest to what they think they could just do."""
    guess = actor.body.guess(line.movement.name)
    if line.movement.measure is Measure.LOAD:
        guess *= epley(line.dose.amount)  # from what could be lifted once to that many times
    sizes = [dose.load or dose.amount for dose in offers(line)]
    return min(range(len(sizes)), key=lambda at: abs(log(sizes[at]) - log(max(guess, 0.5))))


def _buttons(actor: Actor) -> list[EstimateButton]:
    """The buttons of these questions under what they see."""
    return [button for _, button in carried(actor.account.last_message, EstimateButton)]


def _press(actor: Actor, button: EstimateButton) -> str:
    """Press it; returns what it says."""
    message = actor.account.last_message
    label = message.button(button.write()).label
    actor.account.press(message, button.write())
    return label
