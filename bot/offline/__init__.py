"""The commands that need no chat: check a plan file, suggest from a reports file."""

from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from pathlib import Path

from bot.errors import BadInput, Problem
from bot.offline.shapes import as_csv, as_json
from bot.planfile import PlanFile, read_plan_file
from bot.reportsfile import read_reports_file
from bot.timetable import WINDOW, next_session, sessions_between, to_utc
from bot.words.printed import ENGLISH, advice_summary, plan_summary
from core.advice import advise
from core.reports import Reports
from core.watching import Watch, watch

SHOWN_SESSIONS = 3
"""Dates in a summary: enough to see that the rule means what was meant."""


class Format(StrEnum):
    """How suggestions are printed."""

    TABLE = "table"
    JSON = "json"
    CSV = "csv"


def check_plan(path: str | Path, since: datetime | None = None) -> str:
    """A summary of the plan file at that path; BadInput listing everything wrong with it.

    The dates shown are the first from `since` on (UTC), or the very first.
    """
    plan_file = _plan_file(path)
    first = max(since or datetime.min.replace(tzinfo=UTC), _start(plan_file))
    sessions = sessions_between(plan_file.timetable, first, first + WINDOW)
    return plan_summary(plan_file, sessions[:SHOWN_SESSIONS])


def suggest(
    plan_path: str | Path,
    reports_path: str | Path,
    on: date | None = None,
    ask: int = 2,
    format: Format = Format.TABLE,
) -> str:
    """What each member in the reports should do on that day; BadInput for either file.

    Without a day it is the first session of the timetable after the last day in the reports, or
    a week after that day if the timetable has come to an end.
    """
    plan_file = _plan_file(plan_path)
    found = read_reports_file(_read(reports_path), str(reports_path), plan_file.plan)
    day = on or _next_day(plan_file, found.reports)
    advice = advise(plan_file.plan, found.reports, found.members, day, ask)
    alerts = watch(found.reports, Watch(target=plan_file.plan.target))
    match format:
        case Format.JSON:
            return as_json(plan_file.plan, advice, alerts)
        case Format.CSV:
            return as_csv(plan_file.plan, advice)
        case Format.TABLE:
            heading = f"{plan_file.name}, {ENGLISH.day(day)}"
            return advice_summary(plan_file.plan, advice, alerts, heading=heading)


def _plan_file(path: str | Path) -> PlanFile:
    return read_plan_file(_read(path), str(path))


def _read(path: str | Path) -> bytes:
    try:
        return Path(path).read_bytes()
    except OSError as refused:
        wrong = (refused.strerror or "can't be read").lower()
        problem = Problem(where=str(path), wrong=wrong, expected="a file that can be read")
        raise BadInput((problem,)) from None


def _start(plan_file: PlanFile) -> datetime:
    return to_utc(plan_file.starts, plan_file.timezone)


def _next_day(plan_file: PlanFile, reports: Reports) -> date:
    """Day of the first session after the last thing reported."""
    days = {each.on for each in reports.ratings} | {each.on for each in reports.bouts}
    if not days:
        return plan_file.starts.date()
    last = max(days)
    midnight = to_utc(datetime.combine(last, time.max), plan_file.timezone)
    found = next_session(plan_file.timetable, midnight)
    return found.local_day if found else last + timedelta(days=7)
