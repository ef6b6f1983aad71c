"""The day while it is told: three groups on one stage, and what is written down about them."""

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from typing import NewType

from bot.storage import sessions
from bot.storage.sessions import Session
from demo_script.busy_day.agenda import Agenda
from demo_script.cast import Actor
from demo_script.stand_in import Group, Person
from demo_script.story.tale import Script, Tale
from demo_script.story.witness import Witness
from demo_script.telling import Telling
from demo_script.theatre import Theatre

Part = NewType("Part", int)
"""Place of a group in the day."""
MORNING, MIDDAY, EVENING = Part(0), Part(1), Part(2)


@dataclass(frozen=True, slots=True, kw_only=True)
class DayScript(Script):
    """The day comes after a few weeks, which make the groups known to the bot."""

    weeks: int = 4

    @property
    def day(self) -> int:
        """The week in which the day lies, counted from 1."""
        return self.weeks

    @property
    def hurts(self) -> int:
        """It is that day on which somebody is hurt, and somebody else warned."""
        return self.weeks


@dataclass(slots=True, kw_only=True)
class StagedGroup:
    """One group: its tale, who leads it, and how one joins it."""

    id: str
    tale: Tale
    leaders: tuple[Person, ...]
    link: str
    chat: Group | None = None
    """Its own chat; None where it has none."""

    @property
    def name(self) -> str:
        """As people call it."""
        return self.tale.plan.name

    @property
    def names(self) -> frozenset[str]:
        """Of its members."""
        return frozenset(actor.name for actor in self.tale.cast)


@dataclass(slots=True, kw_only=True)
class Notes:
    """What happened that day and is looked into afterwards."""

    moved_from: datetime | None = None
    """When the class was to begin that was moved."""
    moved_at: datetime | None = None
    """When that was done."""
    told_of_move: frozenset[str] = frozenset()
    """Members who were to hear of it."""
    substitute_until: datetime | None = None
    """When the substitute looked once more, and was to see nothing."""
    exported: dict[str, bytes] = field(default_factory=dict)
    """The files that an instructor got, by name."""
    would_suggest: str = ""
    """What the bot itself would have said at that moment for the class that follows, as JSON."""
    next_day: date | None = None
    """The day of that class."""
    plans_before: dict[str, str] = field(default_factory=dict)
    """The plan of each group before demands were taken over, by the group's id."""
    plans_after: dict[str, str] = field(default_factory=dict)
    """The same after the tap."""
    joined_at: datetime | None = None
    """When the newcomer had agreed."""


@dataclass(slots=True, kw_only=True)
class Day:
    """Everything on stage."""

    script: DayScript
    theatre: Theatre
    telling: Telling
    witness: Witness
    first: Person
    second: Person
    groups: list[StagedGroup] = field(default_factory=list)
    agenda: Agenda = field(default_factory=Agenda)
    notes: Notes = field(default_factory=Notes)
    newcomer: Actor | None = None
    """Who joins on the day itself; None before they have a body."""
    problems: list[str] = field(default_factory=list)
    """What the bot logged as an error."""
    looked_through: int = 0
    """How much of what was seen was looked through for alerts."""
    began: datetime | None = None
    """When the day itself began; None before that."""

    @property
    def now(self) -> datetime:
        """What the clock shows."""
        return self.theatre.clock.now()

    @property
    def instructors(self) -> tuple[Person, Person]:
        """Both."""
        return self.first, self.second

    @property
    def day(self) -> date:
        """The day itself; the weeks are counted from the group that began first."""
        first = min(group.tale.plan.starts.date() for group in self.groups)
        return first + timedelta(weeks=self.script.day - 1)

    def group(self, part: Part) -> StagedGroup:
        """The group of that part of the day."""
        return self.groups[part]

    def at(self, clock: str, days_later: int = 0) -> datetime:
        """A moment by the clock on the wall."""
        return self.groups[0].tale.at(self.day + timedelta(days=days_later), clock)

    async def session(self, group: StagedGroup) -> Session:
        """The group's class of that day, as it stands now."""
        async with self.theatre.house.database.transaction() as tx:
            return await sessions.session(tx, group.tale.ledger.sessions[self.script.day])

    def outsiders(self, leader: Person) -> frozenset[str]:
        """Members of groups that this instructor doesn't lead, and of no other."""
        led = [group for group in self.groups if leader in group.leaders]
        inside = frozenset(name for group in led for name in group.names)
        return frozenset(name for group in self.groups for name in group.names) - inside
