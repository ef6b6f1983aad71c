"""Recurrence rules of calendar files, made safe for a library that would follow any."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from dateutil.rrule import DAILY

from bot.timetable.calendarfile.refusal import BadCalendar, Refusal
from bot.timetable.calendarfile.scanning import Line
from bot.timetable.rule import DAYS, FREQUENCIES, BadRule, Rule, read_rule

WEEK = 7


def bounded_rule(text: str, start: Line, title: str) -> str:
    """The rule as the library may have it; BadCalendar for one that we don't take.

    Only days and weeks, and none that never comes: the library would look for it until the year
    9999. A last day without a zone is one of the event's own zone.
    """
    try:
        rule = read_rule(text)
        first = datetime.strptime(start.value[:15], "%Y%m%dT%H%M%S")  # noqa: DTZ007  (local)
    except BadRule as refused:
        raise BadCalendar(Refusal.RULE, title or refused.part) from None
    except ValueError:
        raise BadCalendar(Refusal.BROKEN, title) from None
    if _never_comes(rule, first):
        raise BadCalendar(Refusal.RULE, title)
    return _write(rule, start.parameter("TZID"))


def _never_comes(rule: Rule, first: datetime) -> bool:
    """Whether it steps from week to week on a day that it doesn't name."""
    same_day = rule.freq == DAILY and rule.interval % WEEK == 0
    return same_day and bool(rule.days) and first.weekday() not in rule.days


def _write(rule: Rule, zone: str | None) -> str:
    parts = [f"FREQ={next(name for name, freq in FREQUENCIES.items() if freq == rule.freq)}"]
    parts.append(f"INTERVAL={rule.interval}")
    if rule.count is not None:
        parts.append(f"COUNT={rule.count}")
    if rule.until is not None:
        parts.append(f"UNTIL={_utc(rule.until, zone):%Y%m%dT%H%M%SZ}")
    if rule.days:
        parts.append(f"BYDAY={','.join(DAYS[day] for day in rule.days)}")
    if rule.months:
        parts.append(f"BYMONTH={','.join(map(str, rule.months))}")
    parts.append(f"WKST={DAYS[rule.week_starts]}")
    return ";".join(parts)


def _utc(until: datetime, zone: str | None) -> datetime:
    """The last moment in UTC; of a zone that only the file defines, its clock counts as UTC's."""
    if until.tzinfo is not None:
        return until.astimezone(UTC)
    known = None if zone is None or zone.startswith("zone-") else ZoneInfo(zone)
    return until.replace(tzinfo=known or UTC).astimezone(UTC)
