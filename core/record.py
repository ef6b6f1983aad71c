"""What each member last did of each movement, and what forbids more of it."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from itertools import product

from core import rules
from core.reports import Bout, Reports, Session, SessionRating, StartingEstimate, SymptomKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One member's history with one movement, as far as a suggestion depends on it."""

    last: Bout | None
    """The last bout of which the dose is known."""
    told: Bout | None
    """The last bout that was rated, cut short, or came with a reserve."""
    estimate: StartingEstimate | None
    heard: bool
    """Whether anything at all is known of this member."""
    classes: int
    """Days on which they are known to have been in class."""
    pain: bool
    """Pain or a warning sign that isn't cleared."""
    maximal: Bout | None
    """What was last told of this movement, if that was maximal or unfinished."""
    spent: bool
    """Whether anything in this member's last class was maximal or unfinished."""
    days_away: int | None
    """Days since the last class if that was a break; None if it wasn't."""

    @property
    def done(self) -> float:
        """What was really done in the last bout, in the measure's unit; 0 before the first."""
        return 0.0 if self.last is None else done_of(self.last)

    @property
    def accustomed(self) -> bool:
        """Whether they are used to training: no newcomer, and not just back from a break."""
        return self.classes >= rules.CLASSES_UNTIL_ACCUSTOMED and self.days_away is None


def done_of(bout: Bout) -> float:
    """What was really done, in the measure's unit."""
    if bout.unfinished and bout.completed is not None:
        return bout.completed
    return bout.dose.amount


def is_maximal(bout: Bout) -> bool:
    """Whether this bout was all-out: by the number, or because it was cut short."""
    return bout.unfinished or (bout.effort is not None and bout.effort >= rules.MAXIMAL_EFFORT)


def records(
    reports: Reports, members: tuple[str, ...], movements: dict[str, frozenset[str]], on: date
) -> dict[tuple[str, str], Record]:
    """A record for every member and movement; `movements` maps each to its variations' names.

    `reports` are settled; what lies after that day isn't looked at.
    """
    held = [each for each in reversed(reports.by_session()) if each.on <= on]
    there, missed = _days(held, _present), _days(held, _absent)
    last, told = _latest(held, [each for each in members if each in there], movements)
    estimates = {(each.member, each.movement): each for each in reports.estimates if each.on <= on}
    heard = there.keys() | {member for member, _ in estimates}
    away = _away(there, missed, on)
    spent = _spent(held, set(there))
    frozen = _frozen(reports)
    return {
        (member, movement): Record(
            last=last.get((member, movement)),
            told=told.get((member, movement)),
            estimate=estimates.get((member, movement)),
            heard=member in heard,
            classes=len(there.get(member, ())),
            pain=(member, None) in frozen or (member, movement) in frozen,
            maximal=_maximal(told.get((member, movement))),
            spent=member in spent,
            days_away=away.get(member),
        )
        for member in members
        for movement in movements
    }


Done = dict[tuple[str, str], Bout]
"""By member and movement."""


def _latest(
    held: list[Session], members: list[str], movements: dict[str, frozenset[str]]
) -> tuple[Done, Done]:
    """What these members last did, and what they last told of; sessions are the latest first."""
    last, told = Done(), Done()
    wanted = set(product(members, movements))
    for session in held:
        if not wanted:
            break
        for each in reversed(session.bouts):
            of_it = (each.member, each.movement)
            known = each.dose.amount > 0 and each.dose.variation in movements.get(each.movement, ())
            if of_it not in wanted or not known:
                continue
            last.setdefault(of_it, each)
            if _tells(each):
                told[of_it] = each
                wanted.discard(of_it)
    return last, told


def _tells(bout: Bout) -> bool:
    return bout.effort is not None or bout.unfinished or bout.reserve is not None


def _maximal(bout: Bout | None) -> Bout | None:
    return bout if bout is not None and is_maximal(bout) else None


def _away(there: dict[str, set[date]], missed: dict[str, set[date]], on: date) -> dict[str, int]:
    """Days since the last class, for those for whom that was a break.

    Who was there is known from what they said and from what an instructor noted. Silence counts as
    absence, unless this member's habit explains it: who answers two times in three is easily silent
    twice. Long silence always counts, and so do classes that they surely missed and a time in which
    there was none. Who misses a single class of a weekly group is away from one class, not for two
    weeks; easing that too would take an eighth of all bouts out of the range in simulated rooms.
    """
    held = sorted(set().union(*there.values(), *missed.values()))
    found = {}
    for member, seen in there.items():
        days = (on - max(seen)).days
        known = missed.get(member, set()) - seen
        if days >= rules.BREAK_DAYS and not _only_silent(seen, known, held, on):
            found[member] = days
    return found


def _days(held: list[Session], who: Callable[[Session], set[str]]) -> dict[str, set[date]]:
    days: dict[str, set[date]] = {}
    for session in held:
        for member in who(session):
            days.setdefault(member, set()).add(session.on)
    return days


def _present(session: Session) -> set[str]:
    there = {each.member for each in session.bouts}
    return there | {each.member for each in session.ratings if each.attended}


def _absent(session: Session) -> set[str]:
    return {each.member for each in session.ratings if not each.attended}


def _only_silent(there: set[date], missed: set[date], held: list[date], on: date) -> bool:
    """Whether a gap is no break: more likely silence than absence, by how often they answer."""
    last = max(there)
    silent = sum(last < day < on for day in held)
    if silent == 0 or (on - last).days >= rules.LONG_SILENCE_DAYS:
        return False
    if silent == 1 and (on - last).days <= rules.BREAK_DAYS:
        return True  # one class of a weekly group isn't two weeks of them, whatever became of it
    if any(last < day < on for day in missed):
        return False
    earlier = [day for day in held if min(there) <= day <= last]
    if silent > 1 and len(earlier) < rules.HABIT_CLASSES:
        return False  # of a newcomer no habit is known
    before = sum(day not in there and day not in missed for day in earlier)
    habit = (before + 1) / (len(earlier) + 2)  # Laplace's rule: of few classes no more than a guess
    return bool(habit**silent >= rules.LIKELY_SILENCE)


def _spent(held: list[Session], unseen: set[str]) -> frozenset[str]:
    """Members with anything maximal or unfinished in their last class."""
    spent: set[str] = set()
    for session in held:
        if not unseen:
            break
        last = _present(session) & unseen
        unseen = unseen - last
        spent |= last & {each.member for each in session.bouts if is_maximal(each)}
        spent |= last & {
            each.member for each in session.ratings if each.attended and _all_out(each)
        }
    return frozenset(spent)


def _all_out(rating: SessionRating) -> bool:
    return rating.effort is not None and rating.effort >= rules.MAXIMAL_EFFORT


def _frozen(reports: Reports) -> frozenset[tuple[str, str | None]]:
    """Who may not do more of what; a warning sign is about everything, whatever it was told of."""
    return frozenset(
        (each.member, None if each.kind is SymptomKind.WARNING else each.movement)
        for each in reports.symptoms
        if each.open and each.kind is not SymptomKind.SORENESS
    )
