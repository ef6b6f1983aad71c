"""Calendar files that the tests send, as other programs write them."""

from collections.abc import Iterable

ZONE = """BEGIN:VTIMEZONE
TZID:Hall time
BEGIN:STANDARD
DTSTART:19701025T020000
RRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=-1SU
TZOFFSETFROM:+0100
TZOFFSETTO:+0000
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:19700329T010000
RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=-1SU
TZOFFSETFROM:+0000
TZOFFSETTO:+0100
END:DAYLIGHT
END:VTIMEZONE"""
"""The clocks of Lisbon under a name that only this file knows."""
THURSDAYS = "RRULE:FREQ=WEEKLY;BYDAY=TH"


def event(
    uid: str = "harbour-1",
    *more: str,
    start: str = "DTSTART;TZID=Europe/Lisbon:20260903T183000",
    end: str = "DURATION:PT50M",
    title: str = "Harbour Hall strength",
) -> str:
    """One event: by default the first class of a group that meets on Thursdays."""
    lines = ("BEGIN:VEVENT", f"UID:{uid}", f"SUMMARY:{title}", start, end, *more, "END:VEVENT")
    return "\n".join(line for line in lines if line)


def moved(uid: str, instead_of: str, start: str, *more: str) -> str:
    """One day of a series that is at another time; both local in Lisbon, as `20260910T183000`."""
    return event(
        uid,
        f"RECURRENCE-ID;TZID=Europe/Lisbon:{instead_of}",
        *more,
        start=f"DTSTART;TZID=Europe/Lisbon:{start}",
    )


def calendar(*parts: str, name: str = "") -> str:
    """A whole file."""
    named = [f"X-WR-CALNAME:{name}"] if name else []
    lines: Iterable[str] = ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//a//b//EN", *named, *parts)
    return "\n".join((*lines, "END:VCALENDAR", "")).replace("\n", "\r\n")
