"""What a refusal or an accident of the chat API means for what was being sent."""

from dataclasses import dataclass
from datetime import timedelta
from enum import Enum, auto

from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    EndPointNotFound,
    Forbidden,
    InvalidToken,
    RetryAfter,
    TelegramError,
)

from bot.delivery.transport import NotSent

TOO_MANY_REST = timedelta(seconds=5)  # when the chat API says "too many" but not for how long

# What the Bot API server says, in lower case. It has no error codes finer than the HTTP status.
SAYS_UNCHANGED = ("message is not modified",)
SAYS_GONE = (
    "message to edit not found",
    "message can't be edited",
    "message to delete not found",
    "message identifier is not specified",
    "message_id_invalid",
)
SAYS_UNREACHABLE = (
    "chat not found",
    "user not found",
    "peer_id_invalid",
    "user is deactivated",
    "not enough rights to send",
    "have no rights to send",
    "chat_write_forbidden",
    "need administrator rights in the channel chat",
    "message thread not found",  # the topic is gone
    "topic_deleted",
    "topic_closed",
)


class Verdict(Enum):
    """What a failure means."""

    LATER = auto()  # certainly not sent; worth trying again
    UNCERTAIN = auto()  # may have been sent
    UNCHANGED = auto()  # an edit that changed nothing: as good as sent
    GONE = auto()  # the message to change isn't there, or is too old
    UNREACHABLE = auto()  # this chat does not take messages from us
    MOVED = auto()  # the group has another id now
    REFUSED = auto()  # never acceptable as it is
    STOP = auto()  # the chat API does not talk to us at all


@dataclass(frozen=True, slots=True, kw_only=True)
class Failure:
    """One failed call, judged."""

    verdict: Verdict
    reason: str
    """What the chat API said, or the kind of accident."""
    wait: timedelta | None = None
    """How long the chat API asked to be left alone; None if it did not ask."""
    new_chat: int | None = None
    """The chat's new id, where it moved."""


def judge(error: TelegramError) -> Failure:
    """The meaning of any exception of the chat library: the only place that looks at them."""
    match error:
        case RetryAfter():
            wait = error.retry_after
            rest = wait if isinstance(wait, timedelta) else timedelta(seconds=wait)
            return Failure(verdict=Verdict.LATER, reason="too many requests", wait=rest)
        case ChatMigrated():
            return Failure(
                verdict=Verdict.MOVED, reason="the group moved", new_chat=error.new_chat_id
            )
        case Forbidden():
            return Failure(verdict=Verdict.UNREACHABLE, reason=error.message)
        case BadRequest():  # before anything about the network: it is a subclass of NetworkError
            return Failure(verdict=_of_bad_request(error.message.lower()), reason=error.message)
        case InvalidToken() | Conflict():
            return Failure(verdict=Verdict.STOP, reason=error.message)
        case EndPointNotFound():
            return _of_missing_method(error)
        case NotSent():
            return Failure(verdict=Verdict.LATER, reason=error.message)
        case _:
            return _of_accident(error)


def _of_bad_request(message: str) -> Verdict:
    for verdict, sayings in (
        (Verdict.UNCHANGED, SAYS_UNCHANGED),
        (Verdict.GONE, SAYS_GONE),
        (Verdict.UNREACHABLE, SAYS_UNREACHABLE),
    ):
        if any(saying in message for saying in sayings):
            return verdict
    return Verdict.REFUSED


def _of_missing_method(error: EndPointNotFound) -> Failure:
    """The library makes one exception of "no such method" and of a token that is revoked."""
    cause = error.__cause__
    said = cause.message if isinstance(cause, InvalidToken) else error.message
    missing = "method not found" in said.lower()
    return Failure(verdict=Verdict.REFUSED if missing else Verdict.STOP, reason=said)


def _of_accident(error: TelegramError) -> Failure:
    """Statuses that the library has no class for arrive as NetworkError, as does a broken line."""
    said = error.message.lower()
    if "too many requests" in said:
        return Failure(verdict=Verdict.LATER, reason=error.message, wait=TOO_MANY_REST)
    if "too large" in said:  # 413
        return Failure(verdict=Verdict.REFUSED, reason=error.message)
    return Failure(verdict=Verdict.UNCERTAIN, reason=error.message)
