"""Trouble on the line, on purpose: dropped answers, gateways that fail, slow days."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from demo_script.stand_in.refusals import too_many

GATEWAY_PAGE = "<html><head><title>502 Bad Gateway</title></head><body>nginx</body></html>"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What happens to one request in place of a clean answer."""

    applied: bool = False
    """True: the API does what was asked before the trouble starts, so the bot can't know."""
    wait_seconds: float = 0.0
    cut: bool = False
    """True: the connection is closed without an answer."""
    status: int | None = None
    """HTTP status of the false answer; None lets the true answer through."""
    body: str = ""
    retry_after_seconds: int = 0
    """Over 0: the request is refused with 429."""


Fault = Callable[[str, Mapping[str, object]], Trouble | None]
"""Is asked about every request (method, parameters); None means no trouble from this one."""


def cut_before() -> Trouble:
    """The connection dies before the API took the request in."""
    return Trouble(cut=True)


def cut_after() -> Trouble:
    """The API did it, and then the connection dies without an answer."""
    return Trouble(applied=True, cut=True)


def bad_gateway(status: int = 502, *, applied: bool = False) -> Trouble:
    """An HTML page from a machine in front of the API."""
    return Trouble(applied=applied, status=status, body=GATEWAY_PAGE)


def torn_json(*, applied: bool = True) -> Trouble:
    """Status 200, and half an answer."""
    return Trouble(applied=applied, status=200, body='{"ok":true,"result":{"mess')


def slow(seconds: float) -> Trouble:
    """The right answer, late."""
    return Trouble(applied=True, wait_seconds=seconds)


def busy(retry_after_seconds: int) -> Trouble:
    """429, whatever the pacing says."""
    return Trouble(retry_after_seconds=retry_after_seconds)


def times(count: int, method: str, trouble: Trouble) -> Fault:
    """This trouble for the next so many calls of one method, then none."""
    left = count

    def fault(called: str, _parameters: Mapping[str, object]) -> Trouble | None:
        nonlocal left
        if left == 0 or called.lower() != method.lower():
            return None
        left -= 1
        return trouble

    return fault


def first_trouble(
    faults: list[Fault], method: str, parameters: Mapping[str, object]
) -> Trouble | None:
    """The first trouble any fault makes for this request; a forced 429 is raised at once."""
    for fault in faults:
        trouble = fault(method, parameters)
        if trouble is None:
            continue
        if trouble.retry_after_seconds:
            raise too_many(trouble.retry_after_seconds)
        return trouble
    return None
