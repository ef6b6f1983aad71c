"""The one door to the libraries that read calendars; the first calendar opens it."""

from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from icalendar import Component

# Imported in the functions: a tenth of a second and some megabytes, which few groups ever need.


def expanded(text: str, first: datetime, last: datetime) -> "list[Component]":
    """Each time that an event of this calendar takes place; whatever is wrong raises anything."""
    import recurring_ical_events  # type: ignore[import-untyped]  # ships no types
    from icalendar import Calendar

    found: list[Component] = recurring_ical_events.of(Calendar.from_ical(text)).between(first, last)
    return found


def windows_zone(name: str) -> str | None:
    """The IANA zone that Windows calls so."""
    from icalendar.timezone.windows_to_olson import WINDOWS_TO_OLSON

    return WINDOWS_TO_OLSON.get(name)
