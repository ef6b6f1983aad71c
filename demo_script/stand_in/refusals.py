"""How the API says no: a code, a sentence, and sometimes a parameter."""

from collections.abc import Mapping


class Refusal(Exception):
    """A request that is answered with `"ok": false`."""

    def __init__(
        self, code: int, description: str, parameters: Mapping[str, int] | None = None
    ) -> None:
        super().__init__(f"{code} {description}")
        self.code = code
        self.description = description
        self.parameters = parameters


def bad_request(why: str) -> Refusal:
    """What was asked makes no sense; asking again won't help."""
    return Refusal(400, f"Bad Request: {why}")


def forbidden(why: str) -> Refusal:
    """The other side doesn't want it, or hasn't allowed it yet."""
    return Refusal(403, f"Forbidden: {why}")


def too_many(retry_after_seconds: int) -> Refusal:
    """Too fast; the answer says how long to keep quiet."""
    return Refusal(
        429,
        f"Too Many Requests: retry after {retry_after_seconds}",
        {"retry_after": retry_after_seconds},
    )


def upgraded(new_chat_id: int) -> Refusal:
    """The group has another id now; the answer says which."""
    return Refusal(
        400,
        "Bad Request: group chat was upgraded to a supergroup chat",
        {"migrate_to_chat_id": new_chat_id},
    )


def conflict() -> Refusal:
    """What the older of two pollers hears."""
    return Refusal(
        409,
        "Conflict: terminated by other getUpdates request; "
        "make sure that only one bot instance is running",
    )


NOT_FOUND = Refusal(404, "Not Found")  # unknown methods and malformed tokens
UNAUTHORIZED = Refusal(401, "Unauthorized")  # a well-formed token of no known bot
TOO_LARGE = Refusal(413, "Request Entity Too Large")  # uploads over 50 MB
