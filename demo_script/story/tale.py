"""The tale while it is told: everyone on stage, what happened, how far it was told."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

from bot.planfile import PlanFile
from demo_script.cast import Actor
from demo_script.stand_in import Message, Person, Press
from demo_script.story.ledger import Ledger
from demo_script.story.screen import Kind, carried
from demo_script.story.witness import Sight, Witness
from demo_script.telling import Telling
from demo_script.theatre import Theatre


@dataclass(frozen=True, slots=True, kw_only=True)
class Script:
    """What is settled beforehand: how long it takes, the seed, and in which weeks things happen."""

    weeks: int = 6
    seed: int = 7
    painful: str = "Wall sit"
    """The movement that hurts."""

    @property
    def strangers(self) -> int:
        """The week in which somebody from outside tries the door."""
        return min(2, self.weeks)

    @property
    def corrects(self) -> int:
        """The week whose answer is corrected next morning."""
        return min(2, self.weeks)

    @property
    def hurts(self) -> int:
        """The week in which a joint hurts."""
        return max(1, self.weeks // 2)

    @property
    def heals(self) -> int:
        """The week after whose class it is gone; may lie beyond the end of a short story."""
        return max(self.hurts + 1, self.weeks - 1)


@dataclass(slots=True, kw_only=True)
class Tale:
    """Everything on stage, and everything that happened."""

    script: Script
    theatre: Theatre
    telling: Telling
    plan: PlanFile
    plan_text: str
    cast: tuple[Actor, ...]
    instructor: Person
    stranger: Person
    witness: Witness
    ledger: Ledger = field(default_factory=Ledger)
    refusals: list[str] = field(default_factory=list)
    """What the stranger was told."""
    half_cleared: bool | None = None
    """Whether the pain still held when one of the two had cleared it; None before that."""
    healed_at: datetime | None = None
    problems: list[str] = field(default_factory=list)
    """What the bot logged as an error."""

    @property
    def now(self) -> datetime:
        """What the clock shows."""
        return self.theatre.clock.now()

    @property
    def movements(self) -> tuple[str, ...]:
        """The names of the movements in the plan."""
        return tuple(line.movement.name for line in self.plan.plan.lines)

    def actor(self, name: str) -> Actor:
        """The member of this name."""
        return next(each for each in self.cast if each.name == name)

    def at(self, day: date, clock: str) -> datetime:
        """A moment of that day, by the clock on the wall of the hall."""
        local = datetime.combine(day, time.fromisoformat(clock), ZoneInfo(self.plan.timezone))
        return local.astimezone(UTC)

    def pass_until(self, moment: datetime) -> None:
        """Let time pass in which nothing falls due."""
        self.theatre.clock.push_to(moment)

    async def leap(self, moment: datetime, *, full: bool = False) -> None:
        """Let time pass, and the bot do what falls due."""
        await self.theatre.leap(moment)
        self.tell_new(full=full)

    async def settle(self, *, full: bool = False, hush: bool = False) -> None:
        """Let the bot react, and tell what it says."""
        await self.theatre.settle()
        if hush:
            self.witness.new()
        self.tell_new(full=full)

    def line(self, who: str, text: str) -> None:
        """Tell what somebody does now."""
        self.telling.line(self.now, who, text)

    async def press(
        self, person: Person, message: Message, kind: type[Kind], name: str, **having: object
    ) -> Press:
        """Press the button of this kind, tell it with what the presser sees, and let it work."""
        button, _ = next(iter(carried(message, kind, **having)))
        press = person.press(message, button.data or "")
        pressed_at = self.now
        await self.theatre.settle()
        answer = await press.answered()
        seen = f" and sees: {answer.text}" if answer.text else ""
        self.telling.line(pressed_at, name, f"[{button.label}]{seen}")
        self.tell_new()
        return press

    def tell_new(self, *, full: bool = False) -> None:
        """Tell the messages that came since; the same to several people is told once."""
        new = self.witness.new()
        fresh = [each for each in new if each.kind == "message"]
        changed = [each for each in new if each.kind == "edit" and each.alerts]
        together: dict[tuple[str, tuple[tuple[str, ...], ...]], list[Sight]] = {}
        for sight in fresh:
            if sight.message is not None:
                together.setdefault((sight.text, sight.message.labels), []).append(sight)
        for sights in together.values():
            self._tell(sights, full=full or bool(sights[0].alerts or sights[0].classes))
        for sight in changed:
            if sight.message is not None:
                self.telling.short(
                    sight.at, self._titles([sight]), sight.message, change="changes the alert"
                )

    def _tell(self, sights: list[Sight], *, full: bool) -> None:
        message = sights[0].message
        if message is not None:
            tell = self.telling.close_up if full else self.telling.short
            tell(sights[0].at, self._titles(sights), message)

    def _titles(self, sights: list[Sight]) -> list[str]:
        """Where these were seen, as the app calls it."""
        chats = self.theatre.api.world.chats
        return [chats[each.chat_id].title for each in sights]
