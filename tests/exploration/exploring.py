"""Everything that one member can do from where they are, breadth first, each state once."""

from collections import Counter
from dataclasses import dataclass, field

from bot.buttons import Button
from demo_script.stand_in import Person
from tests.exploration.likeness import Likeness
from tests.exploration.losing import kept, lost
from tests.exploration.questions import asks_nothing
from tests.exploration.standstill import Copy, Standstill
from tests.exploration.ways import UNSEEN, Outcome, Way, Ways, is_known, take


@dataclass(slots=True, kw_only=True)
class Found:
    """What an exploration has met."""

    presses: int = 0
    depth: int = 0
    """So many steps from the start nothing is left out."""
    seen: set[str] = field(default_factory=set)
    """Every state that was met."""
    resting: set[str] = field(default_factory=set)
    """Those in which no question waits for an answer."""
    onwards: dict[str, set[str]] = field(default_factory=dict)
    """From each state that was left, where its ways lead."""
    troubles: dict[str, str] = field(default_factory=dict)
    """The first way to each trouble."""
    toasts: Counter[str] = field(default_factory=Counter)
    kinds: set[type[Button]] = field(default_factory=set)
    """Every kind of button that was met."""
    ends: dict[str, str] = field(default_factory=dict)
    """Texts under which nothing can be pressed, each with the first way to it."""

    @property
    def exhausted(self) -> bool:
        """Whether there is nothing more to meet, however long one goes on."""
        return len(self.onwards) == len(self.seen)

    @property
    def trapped(self) -> set[str]:
        """States from which no way, however long, leads to one where no question waits.

        Whoever was not followed any further may still get out.
        """
        free = self.resting | (self.seen - self.onwards.keys())
        while more := {
            state for state, ways in self.onwards.items() if state not in free and ways & free
        }:
            free |= more
        return self.seen - free


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    state: str
    copy: Copy
    path: tuple[str, ...]


class Explorer:
    """One person's exploration."""

    def __init__(
        self, still: Standstill, person: Person, *, leads: bool = False, typed: tuple[str, ...] = ()
    ) -> None:
        self._still = still
        self._person = person
        self._leads = leads
        self._likeness = Likeness(still, person, leads=leads)
        self._ways = Ways(typed)
        self.found = Found(kinds=self._ways.kinds)

    async def explore(self, depth: int, most: int | None = None) -> Found:
        """Do everything in every state that is less than so many steps away.

        It ends after about `most` presses; `depth` of what was found says how far it came in full.
        """
        found, start = self.found, self._likeness.state()
        self._meet(start)
        frontier = [_Place(state=start, copy=self._still.copy(), path=())]
        while frontier and found.depth < depth:
            following: list[_Place] = []
            for place in frontier:
                if most is not None and found.presses >= most:
                    return found
                # A copy takes longer than a press, and nobody goes on from the last states.
                following += await self._leave(place, goes_on=found.depth + 1 < depth)
            frontier = following
            found.depth += 1
        return found

    async def _leave(self, place: _Place, *, goes_on: bool) -> list[_Place]:
        """Every way out of one place; what is new there, if it is to go on from it."""
        new: list[_Place] = []
        self._still.put_back(place.copy)
        onwards = self.found.onwards.setdefault(place.state, set())
        rests, before = place.state in self.found.resting, kept(self._still)
        for way in self._ways.of(self._likeness.shown()):
            self._still.put_back(place.copy)
            path = (*place.path, str(way))
            self._note(path, await take(self._still, self._person, way))
            if rests and (gone := lost(before, kept(self._still))):
                told = f"{', '.join(gone)} lost by one press"
                self.found.troubles.setdefault(told, " → ".join(path))
            state = self._likeness.state()
            onwards.add(state)
            if state in self.found.seen:
                continue
            self._meet(state)
            if goes_on:
                new.append(_Place(state=state, copy=self._still.copy(), path=path))
                await self._again(way, state, path)
        return new

    async def _again(self, way: Way, state: str, path: tuple[str, ...]) -> None:
        """Tap the same a second time, as on a slow line or another device: that changes nothing."""
        if way.message is None:
            return  # who writes the same twice means it
        path = (*path, f"{way} again")
        stored = self._likeness.stored()
        outcome = await take(self._still, self._person, way)
        self._note(path, outcome, unless=UNSEEN)  # it is there already
        # Instructors have buttons that bring a page as a new message, like a command.
        shows_again = self._leads and self._likeness.stored() == stored
        if self._likeness.state() != state and not shows_again:
            self.found.troubles.setdefault("a second tap changed something", " → ".join(path))

    def _meet(self, state: str) -> None:
        self.found.seen.add(state)
        known = is_known(self._still, self._person)
        if not known or asks_nothing(self._likeness.shown()):
            self.found.resting.add(state)

    def _note(self, path: tuple[str, ...], outcome: Outcome, unless: str = "") -> None:
        found, told = self.found, " → ".join(path)
        found.presses += 1
        found.toasts[outcome.toast] += 1
        for end in outcome.ends:
            found.ends.setdefault(end, told)
        for trouble in outcome.troubles:
            if trouble != unless:
                found.troubles.setdefault(trouble, told)
