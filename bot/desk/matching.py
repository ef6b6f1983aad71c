"""Which sessions are the ones that a timetable now plans, and what that changes."""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, replace

from bot.storage.sessions import Session

Key = Callable[[Session], Hashable | None]
Pair = tuple[Session, Session]


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What a timetable changes about the sessions that have not begun."""

    new: tuple[Session, ...]
    moved: tuple[Pair, ...]
    """Sessions as they are, and as they will be."""
    gone: tuple[Session, ...]
    """Those that no longer take place."""
    back: tuple[Session, ...]
    """Those that were cancelled by the timetable, and take place again."""
    same: tuple[Session, ...]
    """Those that stay, as they will be: what they stand for may be called otherwise."""
    by_hand: tuple[Pair, ...]
    """Those that stay as an instructor made them in the chat, with what the timetable has."""

    @property
    def plans_nothing(self) -> bool:
        """Whether the timetable has no class at all."""
        return not (self.new or self.moved or self.back or self.same or self.by_hand)

    @property
    def is_nothing(self) -> bool:
        """Whether no class is at another time, or takes place or not, because of it."""
        return not (self.new or self.moved or self.gone or self.back)


def match(existing: Iterable[Session], planned: Iterable[Session]) -> Changes:
    """What has to change so that what exists becomes what is planned.

    A session is the same one if it stands for the same event; or else for the same slot; or else
    begins at the same moment; or else is the only one that is left on its day.
    """
    pairs: list[Pair] = []
    rest, wanted = list(existing), list(planned)
    for key in (_event, _slot, _start, _day):
        found = _pairs(rest, wanted, key)
        pairs += found
        rest = [each for each in rest if all(each is not old for old, _ in found)]
        wanted = [each for each in wanted if all(each is not new for _, new in found)]
    kept = [(old, replace(new, id=old.id, plan_id=old.plan_id)) for old, new in pairs]
    left_alone = [(old, new) for old, new in kept if old.by_hand]
    free = [(old, new) for old, new in kept if not old.by_hand]
    return Changes(
        new=tuple(wanted),
        moved=tuple((old, new) for old, new in free if not old.cancelled and _differ(old, new)),
        gone=tuple(each for each in rest if not (each.by_hand or each.cancelled)),
        back=tuple(new for old, new in free if old.cancelled),
        same=tuple(new for old, new in free if not old.cancelled and not _differ(old, new)),
        by_hand=tuple(left_alone),
    )


def _differ(old: Session, new: Session) -> bool:
    return (old.starts_at, old.ends_at) != (new.starts_at, new.ends_at)


def _pairs(existing: list[Session], planned: list[Session], key: Key) -> list[Pair]:
    """Those that only one on each side has this in common with."""
    old, new = _by(existing, key), _by(planned, key)
    common = [each for each in old if len(old[each]) == len(new.get(each, ())) == 1]
    return [(old[each][0], new[each][0]) for each in common]


def _by(sessions: Iterable[Session], key: Key) -> dict[Hashable, list[Session]]:
    found: dict[Hashable, list[Session]] = {}
    for each in sessions:
        value = key(each)
        if value is not None:
            found.setdefault(value, []).append(each)
    return found


def _event(session: Session) -> Hashable | None:
    return session.event


def _slot(session: Session) -> Hashable | None:
    return session.slot


def _start(session: Session) -> Hashable | None:
    return None if session.cancelled else session.starts_at


def _day(session: Session) -> Hashable | None:
    return None if session.cancelled or session.by_hand else session.local_day
