"""Which piece of evidence carries a suggestion, as facts that can be put into words."""

from core.record import Record
from core.reports import Bout
from core.suggestion import Reason, ReasonKind


def reason(record: Record) -> Reason:
    """The evidence that weighs most: safety first, then what was last said of this movement."""
    told = record.told
    if record.pain:
        return _about(ReasonKind.PAIN, told or record.last)
    if record.days_away is not None:
        return _about(ReasonKind.BREAK, record.last, record.days_away)
    if told is not None:
        return _about(_kind(told), told)
    if record.estimate is not None:
        return Reason(kind=ReasonKind.ESTIMATE, on=record.estimate.on)
    return Reason(kind=ReasonKind.OTHERS if record.heard else ReasonKind.NOT_KNOWN)


def _kind(told: Bout) -> ReasonKind:
    if told.unfinished:
        return ReasonKind.UNFINISHED
    return ReasonKind.RESERVE if told.reserve is not None else ReasonKind.RATING


def _about(kind: ReasonKind, bout: Bout | None, days_away: int | None = None) -> Reason:
    if bout is None:
        return Reason(kind=kind, days_away=days_away)
    return Reason(
        kind=kind,
        on=bout.on,
        dose=bout.dose,
        effort=bout.effort,
        completed=bout.completed if bout.unfinished else None,
        reserve=bout.reserve,
        days_away=days_away,
    )
