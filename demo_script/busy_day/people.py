"""Who plays on the busy day: two instructors, three groups, and bodies unlike one plan."""

from dataclasses import dataclass

from core.demands import DemandChange, with_demands
from core.plan import Plan
from demo_script.cast import Habits, Names

FIRST, SECOND = "Vera", "Jonas"
IN_TWO_GROUPS = "Lotte"
NEWCOMER = "Toni"

USUAL = Habits(about="answers when asked").reliable
TYPIST = Habits(about="types numbers", types=1.0).reliable
WARNED = Habits(about="feels dizzy one day", warned=True).reliable
HURTS = Habits(about="feels a knee one day", hurts=True).reliable
SILENT = Habits(about="says nothing that evening", comes=1.0, answers=0.0, at_once=1.0)

MOBILITY: Names = (
    ("Ada", USUAL),
    ("Bela", TYPIST),
    ("Carl", WARNED),
    ("Dora", USUAL),
    ("Emil", USUAL),
    ("Fritz", USUAL),
)
STRENGTH: Names = (
    ("Gwen", USUAL),
    ("Hugo", HURTS),
    ("Ivan", TYPIST),
    ("Juno", USUAL),
    (IN_TWO_GROUPS, USUAL),
)
YOGA: Names = (
    (IN_TWO_GROUPS, USUAL),
    ("Marek", USUAL),
    ("Nele", USUAL),
    ("Oskar", SILENT),
    ("Ruth", USUAL),
    ("Silas", TYPIST),
    (NEWCOMER, USUAL),
)
RETURNING = "Ruth"
IN_THE_CHAT = ("Marek", "Nele", "Silas")
"""Who answers first in the group's own chat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """What one group is made of."""

    plan_name: str
    names: Names
    painful: str
    """The movement that hurts whoever is hurt."""
    says_where_they_stand: bool = False
    """Whether they answer what they could do as they join."""
    truth: tuple[DemandChange, ...] = ()
    """Demands that the plan has wrong; nobody knows."""


BILLS = (
    Bill(
        plan_name="weir_house_mobility.toml",
        names=MOBILITY,
        painful="Chair stand",
        says_where_they_stand=True,
        truth=(
            DemandChange(movement="Side plank", variation="knees bent", written=0.9, believed=0.5),
        ),
    ),
    Bill(plan_name="weir_house_strength.toml", names=STRENGTH, painful="Wall sit"),
    Bill(plan_name="weir_house_yoga.toml", names=YOGA, painful="Chair pose"),
)


def as_it_is(plan: Plan, bill: Bill) -> Plan:
    """The plan with the demands that its movements truly have for these people."""
    return with_demands(plan, bill.truth)
