"""The one codec between moments and the text that the database keeps of them."""

from datetime import UTC, datetime, timedelta
from functools import lru_cache

LENGTH = 20  # characters of every moment, so that text order is time order


@lru_cache(maxsize=64)  # one transaction writes the same moment again and again
def write_moment(moment: datetime) -> str:
    """Write a timezone-aware moment as `2026-03-01T19:05:00Z`, dropping what is below a second."""
    if moment.tzinfo is None:
        raise ValueError("a moment without a time zone")
    # isoformat, unlike strftime, pads years below 1000 on every platform
    return moment.astimezone(UTC).isoformat(timespec="seconds").removesuffix("+00:00") + "Z"


@lru_cache(maxsize=1024)  # and a class answers within minutes
def read_moment(text: str) -> datetime:
    """Read what `write_moment` wrote, as a moment in UTC; anything else is a ValueError."""
    if len(text) != LENGTH or text[10] != "T" or text[-1] != "Z":
        raise ValueError(f"not a moment: {text!r}")
    return datetime.fromisoformat(text)  # many times faster than strptime


def write_maybe(moment: datetime | None) -> str | None:
    """Write a moment that may be absent."""
    return None if moment is None else write_moment(moment)


def read_maybe(text: str | None) -> datetime | None:
    """Read a moment that may be absent."""
    return None if text is None else read_moment(text)


def round_up(moment: datetime) -> datetime:
    """The next whole second at or after this, for a "not before" that must never come early."""
    whole = moment.replace(microsecond=0)
    return whole if whole == moment else whole + timedelta(seconds=1)
