"""What members said and did: ratings, reserve, completed, symptoms, as frozen facts."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from enum import StrEnum
from functools import cached_property
from itertools import chain, groupby
from typing import TypeVar

from core.movement import Dose


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRating:
    """One member's answer about one session as a whole."""

    member: str
    session: str
    on: date
    """Local day of the session."""
    said_at: datetime
    """When it was said; of two answers about the same thing the later one counts."""
    attended: bool = True
    effort: float | None = None
    """0 to 10; None if they were there and didn't rate it, or weren't there."""
    minutes: float | None = None
    """Length of the session; None if not known."""
    noted: bool = False
    """An instructor noted whether they were there; they have said nothing about it themselves."""

    @property
    def about(self) -> tuple[str, ...]:
        """What a later answer would replace."""
        return (self.member, self.session)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bout:
    """One member's work on one movement in one session, as far as it is known."""

    member: str
    session: str
    on: date
    said_at: datetime
    movement: str
    dose: Dose
    """What was to be done."""
    completed: float | None = None
    """Amount of the set that was cut short, in the measure's unit; None if all was done."""
    effort: float | None = None
    """0 to 10; None if it wasn't rated."""
    reserve: float | None = None
    """How much more would have been possible, in seconds or repetitions; None if not asked."""

    @property
    def about(self) -> tuple[str, ...]:
        """What a later answer would replace."""
        return (self.member, self.session, self.movement)

    @property
    def told(self) -> bool:
        """Whether anything was said of it besides that it was done."""
        return not (self.effort is None and self.completed is None and self.reserve is None)

    @property
    def unfinished(self) -> bool:
        """Whether the dose wasn't done in full: maximal, whatever number was tapped."""
        return self.completed is not None and self.completed < self.dose.amount


@dataclass(frozen=True, slots=True, kw_only=True)
class StartingEstimate:
    """What a member thinks they could just do of a movement's standard variation."""

    member: str
    movement: str
    on: date
    amount: float
    """Seconds, repetitions (with `load`: repetitions at that load) or minutes."""
    load: float | None = None


class SymptomKind(StrEnum):
    """What kind of thing hurt or felt wrong."""

    SORENESS = "soreness"
    """Dull, on both sides, fading within days."""
    PAIN = "pain"
    """In a joint, sharp, or on one side."""
    WARNING = "warning"
    """A sign to stop and get medical help."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom:
    """Something that hurt or felt wrong."""

    member: str
    kind: SymptomKind
    on: date
    said_at: datetime
    session: str | None = None
    """None if it was reported outside a session."""
    movement: str | None = None
    """None if it isn't about one movement: then it is about all of them."""
    cleared_by_member: datetime | None = None
    cleared_by_instructor: datetime | None = None

    @property
    def open(self) -> bool:
        """Whether it still holds: it takes both the member and an instructor to clear it."""
        return self.cleared_by_member is None or self.cleared_by_instructor is None


@dataclass(frozen=True, kw_only=True)
class Session:
    """All answers about one session, or all starting estimates of one day."""

    on: date
    name: str
    bouts: tuple[Bout, ...] = ()
    ratings: tuple[SessionRating, ...] = ()
    estimates: tuple[StartingEstimate, ...] = ()

    @cached_property
    def mark(self) -> int:
        """A number for all of it, worked out once however often it is compared."""
        return hash(self)

    def of(self, member: str) -> "Session":
        """What is one member's of it."""
        return replace(
            self,
            bouts=tuple(each for each in self.bouts if each.member == member),
            ratings=tuple(each for each in self.ratings if each.member == member),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Reports:
    """Everything that a group's members have said, in any order."""

    ratings: tuple[SessionRating, ...] = ()
    bouts: tuple[Bout, ...] = ()
    symptoms: tuple[Symptom, ...] = ()
    estimates: tuple[StartingEstimate, ...] = ()

    def by_session(self) -> tuple[Session, ...]:
        """What was said about each session, oldest first."""
        bouts: dict[tuple[date, str], list[Bout]] = defaultdict(list)
        ratings: dict[tuple[date, str], list[SessionRating]] = defaultdict(list)
        for bout in self.bouts:
            bouts[bout.on, bout.session].append(bout)
        for rating in self.ratings:
            ratings[rating.on, rating.session].append(rating)
        return tuple(
            Session(
                on=on, name=name, bouts=tuple(bouts[on, name]), ratings=tuple(ratings[on, name])
            )
            for on, name in sorted(bouts.keys() | ratings.keys())
        )

    def settled(self) -> "Settled":
        """The same with only the latest answer about each thing, oldest session first."""
        only = Reports(ratings=_latest(self.ratings), bouts=_latest(self.bouts))
        return Settled(sessions=only.by_session(), symptoms=self.symptoms, estimates=self.estimates)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled(Reports):
    """Only the latest answer about each thing, oldest session first, by session or all together."""

    sessions: tuple[Session, ...] = ()
    """Oldest first, each settled."""
    ratings: tuple[SessionRating, ...] = field(init=False)
    bouts: tuple[Bout, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Put all of it in order."""
        days = [list(those) for _, those in groupby(self.sessions, key=lambda each: each.on)]
        in_order = {
            "ratings": _in_order([each.ratings for each in those] for those in days),
            "bouts": _in_order([each.bouts for each in those] for those in days),
            "symptoms": tuple(sorted(self.symptoms, key=lambda each: (each.on, each.said_at))),
            "estimates": tuple(sorted(self.estimates, key=lambda each: (each.on, each.member))),
        }
        for name, those in in_order.items():
            object.__setattr__(self, name, those)

    def by_session(self) -> tuple[Session, ...]:
        """What was said about each session, oldest first."""
        return self.sessions

    def settled(self) -> "Settled":
        """They are."""
        return self

    def since(self, day: date) -> "Settled":
        """What was said about the sessions from that day on."""
        return replace(self, sessions=tuple(each for each in self.sessions if each.on >= day))


Answer = TypeVar("Answer", SessionRating, Bout)


def _latest(answers: Iterable[Answer]) -> tuple[Answer, ...]:
    kept: dict[tuple[str, ...], Answer] = {}
    for answer in answers:
        held = kept.get(answer.about)
        if held is None or answer.said_at >= held.said_at:
            kept[answer.about] = answer
    return tuple(sorted(kept.values(), key=lambda each: (each.on, *each.about)))


def _in_order(days: Iterable[list[tuple[Answer, ...]]]) -> tuple[Answer, ...]:
    """Day by day; where there was more than one session, by member."""
    return tuple(
        each
        for those in days
        for each in (those[0] if len(those) == 1 else sorted(chain(*those), key=_about))
    )


def _about(answer: Answer) -> tuple[str, ...]:
    return answer.about
