"""Too hard or too easy, said during class: an answer without a number."""

from collections.abc import Sequence
from datetime import date, datetime
from enum import StrEnum

from core.movement import Dose
from core.reports import Bout
from core.rules import TOO_EASY_EFFORT, TOO_HARD_EFFORT


class Verdict(StrEnum):
    """What a member says of a movement while they do it."""

    HARD = "hard"
    EASY = "easy"


def effort_of(verdict: Verdict) -> float:
    """The rating that it is taken for."""
    return TOO_HARD_EFFORT if verdict is Verdict.HARD else TOO_EASY_EFFORT


def as_bout(
    verdict: Verdict,
    *,
    member: str,
    session: str,
    on: date,
    said_at: datetime,
    movement: str,
    dose: Dose,
) -> Bout:
    """The verdict as a rated bout; a rating given after class replaces it."""
    return Bout(
        member=member,
        session=session,
        on=on,
        said_at=said_at,
        movement=movement,
        dose=dose,
        effort=effort_of(verdict),
    )


def with_verdicts(bouts: Sequence[Bout], verdicts: Sequence[Bout]) -> tuple[Bout, ...]:
    """All of them, but for bouts of which only a verdict was told: that they were done is less.

    Who rates the whole class after it, and passes over the movement, takes nothing back.
    """
    spoken = {each.about for each in verdicts}
    return (*(each for each in bouts if each.told or each.about not in spoken), *verdicts)
