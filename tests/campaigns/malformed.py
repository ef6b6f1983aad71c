"""Valid updates and files, and what accidents and mischief make of them."""

import copy
import json
import random
from collections.abc import Callable, Iterator
from typing import Any

Path = tuple[str | int, ...]

JUNK: tuple[Any, ...] = (
    None, True, False, 0, -1, 2**31, 2**63, -(2**63), 10**30, 1.5, float("inf"), "", " ", "\x00",
    "\u202e", "\ud800", "7", "x" * 5000, "<b>", "{0}", "%s", "'; DROP TABLE person; --", "../../x",
    [], [None], [[]], {}, {"id": None}, {"id": "1"}, {"from": {}}, "٧", "1e309", "nan",
)  # fmt: skip
SAID: tuple[str, ...] = (
    "/start", "/start " + "A" * 64, "/start \u202e", "/START", "/start@class_effort_demo_bot x",
    "/variant", "/digest", "/people", "/export", "/mydata", "/hurt", "/settings x", "/plan <b>",
    "/setup", "/attendance 7", "/name " + "n" * 300, "/cancel", "/", "/ ", "//", "7", "7,5", "11",
    "-1", "nan", "8, side plank 9", "side plank " * 200, "<b>7</b>", "\u200b", "7" * 400, "٧", "½",
    "9/10", "{group}", "%(name)s", "24.12.2026", "18:30", "\ud800", "a\x00b", "🙂" * 500,
)  # fmt: skip
WORDS = (
    "nan", "inf", "-1", "1e999", "0", "9" * 400, '""', "[]", "{}", "=1+1", "@x", "\x00", "\ud800",
    "\u202e", "'''", '"""', "\\", "\r", "\t", "[[", "]]", ",", ";", "2026-13-45", "T", "Z", "é",
    "𝟕", "x" * 3000, "FREQ=SECONDLY", "COUNT=99999999", "TZID=Nowhere/At_All",
)  # fmt: skip


def paths(value: Any, before: Path = ()) -> Iterator[Path]:
    """Every place in it, itself first."""
    yield before
    if isinstance(value, dict):
        for key, each in value.items():
            yield from paths(each, (*before, key))
    elif isinstance(value, list):
        for number, each in enumerate(value):
            yield from paths(each, (*before, number))


def spoilt(update: dict[str, Any], luck: random.Random) -> dict[str, Any]:
    """The update after one to three accidents; what it is filled with is nobody's account."""
    changed = copy.deepcopy(update)
    for _ in range(luck.choice((1, 1, 2, 3))):
        places = [each for each in paths(changed) if each]
        if not places:
            break
        _accident(changed, luck.choice(places), luck)
    return changed


def _accident(update: dict[str, Any], path: Path, luck: random.Random) -> None:
    holder: Any = update
    for step in path[:-1]:
        holder = holder[step]
    last = path[-1]
    match luck.randrange(6):
        case 0:
            del holder[last]
        case 1 if isinstance(holder, dict):
            holder[str(luck.choice(("result", "message", "from", "data", "id")))] = holder.pop(last)
        case 2:
            holder[last] = [holder[last]]
        case 3:
            holder[last] = str(holder[last])
        case _:
            holder[last] = copy.deepcopy(luck.choice(JUNK))


def torn(text: str, luck: random.Random) -> str:
    """The file after one to four accidents, or something that never was one."""
    if luck.random() < 0.05:
        return "".join(luck.choice((*WORDS, "\n", " ")) for _ in range(luck.randrange(60)))
    for _ in range(luck.choice((1, 1, 2, 4))):
        text = luck.choice(TEARS)(text, luck)
    return text


def _lines(change: Callable[[list[str], int, random.Random], object]) -> Any:
    def tear(text: str, luck: random.Random) -> str:
        lines = text.splitlines() or [""]
        change(lines, luck.randrange(len(lines)), luck)
        return "\n".join(lines)

    return tear


def _in_place(text: str, luck: random.Random) -> str:
    at = luck.randrange(len(text) + 1)
    return text[:at] + luck.choice(WORDS) + text[at + luck.randrange(12) :]


def _value(lines: list[str], at: int, luck: random.Random) -> None:
    for mark in ("=", ":", ","):
        name, found, _ = lines[at].partition(mark)
        if found:
            lines[at] = f"{name}{mark}{luck.choice(WORDS)}"
            return


TEARS: tuple[Callable[[str, random.Random], str], ...] = (
    _in_place,
    _lines(lambda lines, at, _: lines.pop(at)),
    _lines(lambda lines, at, _: lines.insert(at, lines[at])),
    _lines(lambda lines, at, luck: lines.insert(at, luck.choice(WORDS))),
    _lines(_value),
    lambda text, luck: text[: luck.randrange(len(text) + 1)],
)


def plain(update: dict[str, Any]) -> dict[str, Any]:
    """As it would come over the line: what JSON can carry, and nothing else."""
    found: dict[str, Any] = json.loads(json.dumps(update))
    return found
