"""How people belong to a group: as members in some state, or as those who may lead it."""

from enum import StrEnum


class Part(StrEnum):
    """How somebody takes part in a group; the first that holds."""

    LEFT = "left"
    """They don't any more."""
    UNREACHABLE = "unreachable"
    """The chat refuses our messages."""
    PAUSED = "paused"
    """They want no questions for a while."""
    JOINED = "joined"
    INVITED = "invited"
    """A link was made for them, and they haven't used it yet."""


class Trust(StrEnum):
    """What a link lets somebody do. The values stand in the database."""

    SHARE = "share"
    """Lead the group as well."""
    HANDOVER = "handover"
    """Lead the group in place of whoever gave the link."""
    SESSION = "session"
    """Stand in for one class."""
