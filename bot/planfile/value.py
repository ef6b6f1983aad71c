"""What a plan file says, as a frozen value."""

from dataclasses import dataclass
from datetime import datetime

from bot.timetable import Timetable
from core.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFile:
    """A group with its timetable and plan; target and ceiling stand in the plan."""

    name: str
    timezone: str
    """IANA name."""
    starts: datetime
    """First session, local, without an offset."""
    rrule: str
    minutes: int
    prompt_after: int
    """Minutes after the end of a session."""
    digest_before: int
    """Minutes before its start."""
    plan: Plan

    @property
    def timetable(self) -> Timetable:
        """When this group meets."""
        return Timetable(
            starts=self.starts, rrule=self.rrule, zone=self.timezone, minutes=self.minutes
        )
