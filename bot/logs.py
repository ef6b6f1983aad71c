"""The log: one line for each event, in fields, without names, ratings or the token.

A line is logfmt, such as `at=2026-09-03T18:30:05Z level=warning event=letter-not-sent
letter=prompt/k3… verdict=LATER`. An event's name is made of what the code says before any values,
so it stays the same whatever happens. Values come as `fields(...)`: ids, counts and kinds only.
"""

import logging
import re
import sys
import traceback
from datetime import UTC, datetime
from types import TracebackType
from typing import TextIO
from urllib.parse import quote

from bot.errors import StorageTrouble

OURS = ("bot", "core", "__main__", "demo_script")
TALKATIVE = ("httpx", "httpcore", "aiohttp", "urllib3", "asyncio", "apscheduler", "aiosqlite")
"""Their INFO lines hold addresses, and an address of the chat API holds the token."""
INDISCREET = ("telegram.request.BaseRequest",)
"""Prints the body of an answer that is no JSON, whatever is in it; we tell of the failure."""
INSTEAD = "[token]"
LONGEST_EVENT, LONGEST_VALUE = 60, 1000
MOST_FRAMES = 12

BARE = re.compile(r"[\w./:+@\[\]-]+")
"""What needs no quotes."""
PLACEHOLDER = re.compile(r"%(\(\w+\))?[-#0 +]*\d*(\.\d+)?[a-zA-Z]")
QUOTED = re.compile(r"""["“„«].*|(?<!\w)['‘].*""", re.DOTALL)


def fields(**values: object) -> dict[str, object]:
    """The values of an event, for the `extra` of a call of a logger."""
    return {"fields": values}


def discreet(said: str) -> str:
    """What the chat API says of a failure, up to the first thing it quotes: that may be a name."""
    return QUOTED.sub("…", said)


class Lines(logging.Formatter):
    """Writes a record as one line. Whatever may hold what people said is left out.

    Of other people's libraries only the words around the values are written, and of an exception
    its class and the places it passed, but not its text.
    """

    def __init__(self, token: str) -> None:
        super().__init__()
        secret = token.rpartition(":")[2]  # also in case an address is written in some other way
        self._forms = tuple(form for form in (token, quote(token, safe=""), secret) if form)

    def format(self, record: logging.LogRecord) -> str:
        """The line, without its end."""
        moment = datetime.fromtimestamp(record.created, UTC)
        facts: dict[str, object] = {
            "at": moment.replace(microsecond=0, tzinfo=None).isoformat() + "Z",
            "level": record.levelname.lower(),
            "event": _event(record),
            "from": record.name,
            **_values(record),
        }
        if record.exc_info and record.exc_info[0] is not None:
            facts["error"] = _kinds(record.exc_info[1])
            facts["passed"] = _places(record.exc_info[2])
        told = {name: "" if value is None else str(value) for name, value in facts.items()}
        # cleaned before anything is cut, since half a secret would not be known
        return " ".join(f"{name}={_written(self._clean(text))}" for name, text in told.items())

    def _clean(self, text: str) -> str:
        for form in self._forms:
            text = text.replace(form, INSTEAD)
        return text


def worth_telling(record: logging.LogRecord) -> bool:
    """Whether a record says something new: trouble of the storage is told by the storage, once."""
    error = record.exc_info[1] if record.exc_info else None
    return record.name.startswith("bot.storage") or not isinstance(error, StorageTrouble)


def open_log(
    token: str, *, level: int = logging.INFO, stream: TextIO | None = None
) -> logging.Handler:
    """Log to standard error; returns the handler, in case it must go again."""
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(Lines(token))
    handler.addFilter(worth_telling)
    root = logging.getLogger()
    root.addHandler(handler)
    root.setLevel(level)
    for name in TALKATIVE:
        logging.getLogger(name).setLevel(logging.WARNING)
    for name in INDISCREET:
        logging.getLogger(name).setLevel(logging.CRITICAL)
    # below INFO the chat library writes whole messages
    logging.getLogger("telegram").setLevel(max(level, logging.INFO))
    return handler


def _is_ours(record: logging.LogRecord) -> bool:
    return record.name.partition(".")[0] in OURS


def _event(record: logging.LogRecord) -> str:
    """The words before any values, as `like-this`."""
    said = record.msg if isinstance(record.msg, str) else type(record.msg).__name__
    first = PLACEHOLDER.sub(" ", (said.splitlines() or [""])[0])
    words = re.findall(r"[a-z0-9]+", first.lower().replace("'", ""))
    return "-".join(words)[:LONGEST_EVENT].rstrip("-") or "unnamed"


def _values(record: logging.LogRecord) -> dict[str, object]:
    """What the event carries; of others' events nothing, since nobody knows what is in there."""
    if not _is_ours(record):
        return {}
    given = getattr(record, "fields", None)
    if isinstance(given, dict):
        return given
    return {"text": record.getMessage()} if record.args else {}


def _kinds(error: BaseException | None) -> str:
    """The classes of an exception and of what caused it."""
    kinds: list[str] = []
    while error is not None and len(kinds) < MOST_FRAMES:
        kinds.append(type(error).__name__)
        error = error.__cause__ or error.__context__
    return " < ".join(kinds)


def _places(passed: TracebackType | None) -> str:
    """Where an exception went through, the innermost last: file, line and function."""
    frames = traceback.extract_tb(passed)[-MOST_FRAMES:]
    return " > ".join(f"{_file(each.filename)}:{each.lineno}:{each.name}" for each in frames)


def _file(path: str) -> str:
    return "/".join(path.replace("\\", "/").split("/")[-3:])


def _written(text: str) -> str:
    text = text[:LONGEST_VALUE]
    if BARE.fullmatch(text):
        return text
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    visible = "".join(each if each.isprintable() else " " for each in escaped)
    return f'"{visible}"'
