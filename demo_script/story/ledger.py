"""What really happened, written down where the bot can't see it, to compare with afterwards."""

from dataclasses import dataclass, field
from datetime import datetime

from core.movement import Dose
from core.suggestion import Suggestion
from demo_script.people import Performance


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueBout:
    """What one member did of one movement in one class."""

    week: int
    member: str
    movement: str
    dose: Dose
    """What they were told."""
    performance: Performance
    usually: float
    """Effort of what they were told, on an average day of theirs."""
    by_plan: float
    """Effort of the plan's own dose on such a day, had everybody done that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One answer as its giver meant it: a number or a word, never both."""

    week: int
    member: str
    at: datetime
    prompt: str
    question: str
    """The short form, such as `e0`."""
    number: float | None
    word: str | None
    movement: str | None = None
    """The movement that the question named; None where it named none."""
    typed: str | None = None
    """What they typed; None if they tapped."""
    looked: str
    """How it looked to somebody reading over their shoulder."""
    reactions: range = range(0)
    """Which of the things that the witness saw came of it: all before anybody did anything else."""


@dataclass(slots=True, kw_only=True)
class Ledger:
    """Everything that happened, week by week, counted from 1."""

    told: dict[tuple[int, str], tuple[Suggestion, ...]] = field(default_factory=dict)
    """What each member was told to do, as it stood when the class began."""
    bouts: list[TrueBout] = field(default_factory=list)
    given: list[Given] = field(default_factory=list)
    sessions: dict[int, str] = field(default_factory=dict)
    """Ids of the sessions in the database."""
    prompted: dict[int, range] = field(default_factory=dict)
    """Which of the things that the witness saw came when prompts were due, and nothing else was."""
    prompts: dict[int, frozenset[str]] = field(default_factory=dict)
    """Ids of the prompts about each week's class."""
    reminders: dict[int, datetime] = field(default_factory=dict)
    """When each week's reminder was due."""

    def efforts(self, week: int, member: str) -> dict[str, Performance]:
        """What this member did in that class; empty if they weren't there."""
        return {
            bout.movement: bout.performance
            for bout in self.bouts
            if (bout.week, bout.member) == (week, member)
        }

    def standing(self) -> dict[str, dict[str, Given]]:
        """The latest answer to each question of each prompt."""
        found: dict[str, dict[str, Given]] = {}
        for each in self.given:
            found.setdefault(each.prompt, {})[each.question] = each
        return found
