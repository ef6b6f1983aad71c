"""What each member last did of each movement, and what forbids more of it."""

from dataclasses import dataclass
from datetime import date

from core import rules
from core.reports import Bout, Reports, SessionRating, StartingEstimate, SymptomKind

Answer = Bout | SessionRating


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
    bouts = [each for each in reports.bouts if each.on <= on]
    every = [each for each in reports.ratings if each.on <= on]
    ratings = [each for each in every if each.attended]
    known = _known(bouts, movements)
    told = _known([each for each in bouts if _tells(each)], movements)
    estimates = {(each.member, each.movement): each for each in reports.estimates if each.on <= on}
    said: list[Answer] = [*bouts, *ratings]
    heard = {each.member for each in said} | {member for member, _ in estimates}
    away = _away(bouts, every, on)
    spent = _spent(bouts, ratings)
    frozen = _frozen(reports)
    return {
        (member, movement): Record(
            last=known.get((member, movement)),
            told=told.get((member, movement)),
            estimate=estimates.get((member, movement)),
            heard=member in heard,
            pain=(member, None) in frozen or (member, movement) in frozen,
            maximal=_maximal(told.get((member, movement))),
            spent=member in spent,
            days_away=away.get(member),
        )
        for member in members
        for movement in movements
    }


def _known(bouts: list[Bout], movements: dict[str, frozenset[str]]) -> dict[tuple[str, str], Bout]:
    return {
        (each.member, each.movement): each
        for each in bouts
        if each.dose.variation in movements.get(each.movement, ()) and each.dose.amount > 0
    }


def _tells(bout: Bout) -> bool:
    return bout.effort is not None or bout.unfinished or bout.reserve is not None


def _maximal(bout: Bout | None) -> Bout | None:
    return bout if bout is not None and is_maximal(bout) else None


def _away(bouts: list[Bout], ratings: list[SessionRating], on: date) -> dict[str, int]:
    """Days since the last class, for those for whom that was a break.

    Silence counts as absence, unless this member's habit explains it: who answers two times in
    three is easily silent twice. Long silence always counts, and so does an "I wasn't there".
    """
    present: list[Answer] = [*bouts, *(each for each in ratings if each.attended)]
    absent = {(each.member, each.on) for each in ratings if not each.attended}
    held = sorted({each.on for each in present} | {each.on for each in ratings})
    days: dict[str, set[date]] = {}
    for each in present:
        days.setdefault(each.member, set()).add(each.on)
    return {
        member: (on - max(seen)).days
        for member, seen in days.items()
        if (on - max(seen)).days >= rules.BREAK_DAYS
        and not _only_silent(seen, held, on, {day for who, day in absent if who == member})
    }


def _only_silent(seen: set[date], held: list[date], on: date, absent: set[date]) -> bool:
    """Whether a gap is more likely silence than absence, by how often this member answers."""
    last = max(seen)
    missed = sum(last < day < on for day in held)
    if missed == 0 or (on - last).days >= rules.LONG_SILENCE_DAYS:
        return False
    if missed == 1 and (on - last).days <= rules.BREAK_DAYS:
        return True  # one class of a weekly group isn't two weeks
    before = [day for day in held if min(seen) <= day <= last]
    silent = sum(day not in seen and day not in absent for day in before) / len(before)
    known_absent = any(last < day < on for day in absent)
    usual = len(before) >= rules.HABIT_CLASSES and silent**missed >= rules.LIKELY_SILENCE
    return usual and not known_absent


def _spent(bouts: list[Bout], ratings: list[SessionRating]) -> frozenset[str]:
    """Members with anything maximal or unfinished in their last class."""
    said: list[Answer] = [*bouts, *ratings]
    last: dict[str, tuple[date, str]] = {}
    for each in said:
        when = (each.on, each.session)
        last[each.member] = max(last.get(each.member, when), when)
    hard = {
        each.member
        for each in bouts
        if last[each.member] == (each.on, each.session) and is_maximal(each)
    }
    return frozenset(
        hard
        | {
            each.member
            for each in ratings
            if last[each.member] == (each.on, each.session)
            and each.effort is not None
            and each.effort >= rules.MAXIMAL_EFFORT
        }
    )


def _frozen(reports: Reports) -> frozenset[tuple[str, str | None]]:
    """Who may not do more of what; a warning sign is about everything, whatever it was told of."""
    return frozenset(
        (each.member, None if each.kind is SymptomKind.WARNING else each.movement)
        for each in reports.symptoms
        if each.open and each.kind is not SymptomKind.SORENESS
    )
