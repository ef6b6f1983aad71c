"""What a member would answer: from what they did in class and how they go about numbers."""

import numpy as np

from core.questions import ABSENT, FINE, UNFINISHED, Topic
from demo_script.cast import Actor
from demo_script.people import Performance
from demo_script.story.screen import Offer, Shown, movement_named
from demo_script.story.tale import Tale

SORE = 0.08  # share of classes after which somebody mentions sore muscles
SLIP = 2  # points beside what was meant, by whoever corrects it next day
HALF = 0.5  # what people are off who write numbers with a comma


def choose(tale: Tale, actor: Actor, week: int, shown: Shown, *, meant: bool) -> Offer:
    """The button that comes closest to what they felt; `meant` says that no finger slips."""
    efforts = tale.ledger.efforts(week, actor.name)
    match shown.question.topic:
        case Topic.SESSION if not efforts:
            return shown.word(ABSENT)
        case Topic.SESSION:
            return shown.nearest(_whole(tale, actor, week, meant=meant))
        case Topic.HURT:
            return shown.word(_hurt(tale, actor, week))
        case Topic.WHERE:
            return shown.labelled(tale.script.painful)
        case topic:
            named = movement_named(shown.message.text, tale.movements)
            return _about_movement(shown, topic, efforts[named or ""])


def as_typed(actor: Actor, topic: Topic, number: float) -> tuple[str, float]:
    """One of the ways in which people write a number, and the number that it is."""
    if topic not in (Topic.SESSION, Topic.EFFORT):
        return f"{number:g}", number
    between = abs(number - HALF)
    ways = (
        (f"{number:g}", number),
        (f"{number:g}/10", number),
        (f"{10 * number:g} %", number),
        (f"{between:g}".replace(".", ","), between),
    )
    return ways[int(actor.luck.integers(len(ways)))]


def _about_movement(shown: Shown, topic: Topic, felt: Performance) -> Offer:
    if topic is Topic.RESERVE:
        return shown.nearest(felt.reserve)
    if felt.completed is None:
        return shown.nearest(felt.rating)
    return shown.word(UNFINISHED) if topic is Topic.EFFORT else shown.nearest(felt.completed)


def _whole(tale: Tale, actor: Actor, week: int, *, meant: bool) -> float:
    """The class as a whole: about the mean of its movements."""
    efforts = tale.ledger.efforts(week, actor.name).values()
    felt = actor.body.rate(float(np.mean([each.true_effort for each in efforts])))
    if meant or not actor.habits.corrects or week != tale.script.corrects:
        return felt
    return felt + SLIP if felt + SLIP < 10 else felt - SLIP


def _hurt(tale: Tale, actor: Actor, week: int) -> str:
    if week == tale.script.hurts and (actor.habits.hurts or actor.habits.warned):
        return "pain" if actor.habits.hurts else "warning"
    return "soreness" if actor.does(SORE) else FINE
