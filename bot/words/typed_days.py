"""Days as people write them, in their language: `24/12`, `24. Dezember 2026`, `2026-12-24`."""

import re
from datetime import date

from babel import Locale
from babel.dates import get_date_format, get_month_names

from bot.words.speech import LANGUAGES, Speech

ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})", re.ASCII)
NUMBERS = re.compile(r"(\d{1,2})\s*[./-]\s*(\d{1,2})(?:\s*[./-]\s*(\d{4}|\d{2}))?\.?", re.ASCII)
NAMED = re.compile(
    r"(?P<first>\d{1,2})?(?:\.|st|nd|rd|th)?\s*(?:de\s+)?(?P<month>[^\W\d]+)\.?\s*"
    r"(?P<last>\d{1,2})?(?:st|nd|rd|th)?,?\s*(?:de\s+)?(?P<year>\d{4})?"
)
CENTURY = 2000


def read_day(speech: Speech, text: str, today: date) -> date | None:
    """The day that is meant; without a year the next one to come. None if it is no day."""
    written = text.strip().casefold()
    locale = Locale.parse(LANGUAGES[speech.language])
    if found := ISO.fullmatch(written):
        return _day(int(found[1]), int(found[2]), int(found[3]), today)
    if found := NUMBERS.fullmatch(written):
        pair = (int(found[1]), int(found[2]))
        day, month = pair if _day_first(locale) else pair[::-1]
        return _day(_year(found[3]), month, day, today)
    if (found := NAMED.fullmatch(written)) and (found["first"] is None) != (found["last"] is None):
        named = _month(found["month"], locale)
        day = int(found["first"] or found["last"])
        return None if named is None else _day(_year(found["year"]), named, day, today)
    return None


def _day(year: int | None, month: int, day: int, today: date) -> date | None:
    try:
        if year is not None:
            return date(year, month, day)
        this_year = date(today.year, month, day)
        return this_year if this_year >= today else date(today.year + 1, month, day)
    except ValueError:
        return None


def _year(text: str | None) -> int | None:
    return None if text is None else int(text) + (CENTURY if len(text) <= 2 else 0)


def _day_first(locale: Locale) -> bool:
    pattern = get_date_format("short", locale=locale).pattern
    return pattern.index("d") < pattern.upper().index("M")


def _month(name: str, locale: Locale) -> int | None:
    """The number of a month whose name begins so, if only one does."""
    fitting = {
        number
        for width in ("wide", "abbreviated")
        for context in ("format", "stand-alone")
        for number, known in get_month_names(width, context, locale).items()
        if len(name) >= 3 and known.casefold().rstrip(".").startswith(name)
    }
    return fitting.pop() if len(fitting) == 1 else None
