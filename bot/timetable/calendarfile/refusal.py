"""Why a calendar file isn't taken, as facts that can be put into words."""

from enum import StrEnum


class Refusal(StrEnum):
    """What is wrong."""

    NO_CALENDAR = "no calendar"
    """It isn't a calendar, or a torn one."""
    NO_EVENTS = "no events"
    TOO_MANY = "too many events"
    """In the file, or of those that are chosen, in the weeks that are planned ahead."""
    BROKEN = "broken event"
    """An event without a start, or with times that can't be read."""
    WHOLE_DAY = "whole day"
    RULE = "rule"
    """It repeats in a way that we don't take."""
    TOO_FAR = "too far"
    """It begins more than two years ago or ahead."""
    LENGTH = "length"
    """It is shorter or longer than a class."""
    ZONE = "zone"
    """It names a time zone that nobody knows."""


class BadCalendar(ValueError):
    """A calendar file that isn't taken; `about` is the event, rule or zone, where there is one."""

    def __init__(self, refusal: Refusal, about: str = "") -> None:
        super().__init__(refusal, about)
        self.refusal = refusal
        self.about = about
