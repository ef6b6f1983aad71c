"""Days, times and numbers as people read them."""

from datetime import date, datetime
from zoneinfo import ZoneInfo


def day_words(day: date) -> str:
    """A day, such as `Thu 3 Sep`."""
    return f"{day:%a} {day.day} {day:%b}"


def moment_words(moment: datetime, timezone: str) -> str:
    """A moment on the group's clock, such as `Thu 3 Sep, 18:30`."""
    local = moment.astimezone(ZoneInfo(timezone))
    return f"{day_words(local.date())}, {local:%H:%M}"


def number_words(number: float) -> str:
    """A number without needless zeros, such as `7` or `7.5`."""
    return f"{number:.1f}".removesuffix(".0")
