"""Calendar files (iCalendar, RFC 5545): when classes are, and nothing else of them.

A file is looked through line by line before any library sees it: what isn't about when events are
is left out, such as alarms, attachments and people; and what could keep a library busy is refused.
"""

from bot.timetable.calendarfile.occurrences import Home, Planned, planned_between, problem_with
from bot.timetable.calendarfile.read import Calendar, Series, read_calendar, write_calendar
from bot.timetable.calendarfile.refusal import BadCalendar, Refusal

__all__ = [
    "BadCalendar",
    "Calendar",
    "Home",
    "Planned",
    "Refusal",
    "Series",
    "planned_between",
    "problem_with",
    "read_calendar",
    "write_calendar",
]
