"""Who plays: invented members with their habits and the bodies of the seed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from core.movement import Dose
from core.plan import Plan
from core.rules import MAXIMAL_EFFORT
from demo_script.people import Nature, Performance, SimulatedMember, make_class
from demo_script.stand_in import Person, StandIn

INSTRUCTOR = "Ines"
STRANGER = "Zeno"


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How somebody behaves, whatever their body can do. Numbers are shares from 0 to 1."""

    about: str
    """For the programme: what is special about them."""
    comes: float = 0.9
    answers: float = 0.85
    at_once: float = 0.9
    """Of their answers, how many they give the same evening; the others come next morning."""
    types: float = 0.1
    """How many of their numbers they type instead of tapping."""
    owns_up: float = 0.6
    """How often they say so when they weren't there."""
    asks: float = 0.25
    """How often they ask what to do before class."""
    all_out: bool = False
    """Goes on until nothing is left, whatever they were told."""
    hurts: bool = False
    """Feels a joint in one class."""
    warned: bool = False
    """Has a warning sign in one class."""
    corrects: bool = False
    """Notices next day that they tapped the wrong number."""
    chats: bool = False
    """Tries words first where a number is asked for."""

    @property
    def reliable(self) -> "Habits":
        """The same, but there and answering the same evening: the story needs them that day."""
        return replace(self, comes=1.0, answers=1.0, at_once=1.0)


Names = tuple[tuple[str, Habits], ...]

CAST: Names = (
    ("Mira", Habits(about="taps at once, and asks before every class", asks=1.0).reliable),
    ("Tomas", Habits(about="types everything, words first", types=1.0, chats=True).reliable),
    ("Bruno", Habits(about="goes on until nothing is left", all_out=True).reliable),
    ("Nadia", Habits(about="feels her knee one day", hurts=True).reliable),
    ("Lena", Habits(about="corrects herself", corrects=True, asks=0.5).reliable),
    ("Yusuf", Habits(about="answers late", at_once=0.15, types=0.4)),
    ("Greta", Habits(about="says nothing when she is away", owns_up=0.0, comes=0.75)),
    ("Omar", Habits(about="often away, and says so", owns_up=1.0, comes=0.6)),
    ("Pia", Habits(about="hardly ever answers", answers=0.25)),
    ("Henrik", Habits(about="types as often as he taps", types=0.5, at_once=0.6)),
)


@dataclass(slots=True, kw_only=True)
class Actor:
    """One member on stage: an account in the chat, a body, habits, and luck of their own."""

    account: Person
    body: SimulatedMember
    habits: Habits
    luck: np.random.Generator

    @property
    def name(self) -> str:
        """The name that the chat shows."""
        return self.account.name

    def does(self, share: float) -> bool:
        """Whether they do this time what they do with this share."""
        return bool(self.luck.random() < share)

    def perform(self, movement: str, dose: Dose) -> Performance:
        """Do what they were told, or go on until nothing is left."""
        done = self.body.perform(movement, dose)
        if not self.habits.all_out:
            return done
        return replace(done, true_effort=10.0, rating=self.body.rate(10.0), reserve=0.0)


NOBODY: Mapping[str, Person] = MappingProxyType({})


def make_cast(
    api: StandIn,
    plan: Plan,
    seed: int,
    names: Names = CAST,
    known: Mapping[str, Person] = NOBODY,
) -> tuple[Actor, ...]:
    """Everyone, with the bodies and the luck of this seed; `known` are accounts there already."""
    luck = np.random.default_rng(seed)
    bodies = make_class(tuple(name for name, _ in names), plan, Nature(), luck)
    return tuple(
        _actor(
            known.get(body.name) or api.person(body.name),
            body,
            habits,
            np.random.default_rng(luck.integers(2**63)),
        )
        for body, (_, habits) in zip(bodies, names, strict=True)
    )


def _actor(
    account: Person, body: SimulatedMember, habits: Habits, luck: np.random.Generator
) -> Actor:
    body.attends, body.answers = habits.comes, habits.answers
    if habits.all_out:  # who goes all-out says so: the bot can only find what it is told
        body.bias = max(body.bias, 10.0 - MAXIMAL_EFFORT + 1.0)
    return Actor(account=account, body=body, habits=habits, luck=luck)
