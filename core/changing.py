"""A week whose load was far from that of the weeks before: told as a plain fact."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import fsum
from statistics import fmean

from core.alert import Alert, AlertKind, Sighting
from core.load import WEEK, session_load
from core.reports import SessionRating
from core.rules import KNOWN_WEEKS_OF_LOAD, WEEKS_OF_LOAD
from core.thresholds import Threshold, Thresholds


def load_changes(
    ratings: Sequence[SessionRating],
    asked: Sequence[date],
    member: str,
    limits: Thresholds,
    on: date,
) -> list[Alert]:
    """The last week, Monday to Sunday, against the mean of the four before.

    Only weeks count in which every class that they were asked about was answered, and in which
    they trained, since silence isn't rest. A week that isn't over can only be more.
    """
    least = limits.of(Threshold.LOAD) / 100
    loads = _weeks(ratings, asked)
    this = _monday(on)
    if this not in loads:  # before the first class of a week, the last one is what there is to tell
        this -= timedelta(days=WEEK)
    before = [loads.get(this - timedelta(weeks=back)) for back in range(1, WEEKS_OF_LOAD + 1)]
    known = [each for each in before if each]
    load = loads.get(this)
    if not least or not load or len(known) < KNOWN_WEEKS_OF_LOAD:
        return []
    usual = fmean(known)
    change = load / usual - 1
    over = (on - this).days >= WEEK
    if abs(change) < least or (change < 0 and not over):
        return []
    seen = Sighting(on=this, load=load, usual=usual)
    cause = (this.isoformat(),)
    return [Alert(member=member, kind=AlertKind.LOAD, cause=cause, evidence=(seen,))]


def _weeks(ratings: Sequence[SessionRating], asked: Sequence[date]) -> dict[date, float]:
    """Load by the Monday of each week that is known in full."""
    loads: dict[date, list[float]] = {}
    unknown = {_monday(day) for day in set(asked) - {each.on for each in ratings}}
    for each in ratings:
        if not each.attended:
            continue
        if each.effort is None or each.minutes is None:
            unknown.add(_monday(each.on))
        else:
            loads.setdefault(_monday(each.on), []).append(session_load(each.effort, each.minutes))
    return {week: fsum(those) for week, those in loads.items() if week not in unknown}


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())
