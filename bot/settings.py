"""What the operator can set, read from the environment and a `.env` file."""

import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from bot.errors import BadInput, Problem
from bot.place import Place, read_place

PREFIX = "CLASS_EFFORT_"
DOTENV = Path(".env")

ADDRESS = re.compile(r"https?://[^\s/]+(/\S*)?")
OWNER_CODE_LENGTHS = range(12, 65)


@dataclass(frozen=True, slots=True)
class Secret:
    """A text that isn't shown by mistake: neither in a log nor by the interpreter."""

    text: str = field(repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Each setting is an environment variable with `CLASS_EFFORT_` before its name."""

    token: Secret
    api_url: str = "https://api.telegram.org"
    database: Place = Path("class-effort.sqlite3")
    owner_code: Secret | None = None


MEANINGS = {
    "token": "the bot's token from the chat service",
    "api_url": "address of the Bot API, http or https",
    "database": "path of the database file, or a postgresql:// address",
    "owner_code": "12 to 64 characters that make whoever sends them the first instructor",
}


def read_settings(*, token_needed: bool = True) -> Settings:
    """The settings in force; BadInput names every variable that is missing or wrong.

    What only touches the database needs no token, and gets an empty one if there is none.
    """
    given = _given()
    read: dict[str, Any] = {} if token_needed else {"token": Secret("")}
    problems = []
    for name, reader in _READERS.items():
        try:
            if name in given:
                read[name] = reader(given[name])
            elif name == "token" and token_needed:
                problems.append(_problem(name, "is not set"))
        except ValueError as wrong:
            problems.append(_problem(name, str(wrong)))
    if problems:
        raise BadInput(tuple(problems))
    return Settings(**read)


def _given() -> Mapping[str, str]:
    """What is set, by the names of the settings; the environment comes before the file."""
    values: dict[str, str | None] = {}
    if DOTENV.is_file():
        from dotenv import dotenv_values  # most have no such file

        values |= dotenv_values(DOTENV, encoding="utf-8")
    values |= os.environ
    return {
        name.upper().removeprefix(PREFIX).lower(): value
        for name, value in values.items()
        if name.upper().startswith(PREFIX) and value is not None
    }


def _token(text: str) -> Secret:
    if not text:
        raise ValueError("is empty")
    return Secret(text)


def _api_url(text: str) -> str:
    if ADDRESS.fullmatch(text) is None:
        raise ValueError("is no such address")
    return text


def _owner_code(text: str) -> Secret:
    if len(text) not in OWNER_CODE_LENGTHS:
        raise ValueError("is too short or too long")
    return Secret(text)


_READERS: dict[str, Callable[[str], object]] = {
    "token": _token,
    "api_url": _api_url,
    "database": read_place,
    "owner_code": _owner_code,
}
"""What makes a setting of a text; ValueError if it isn't one."""


def _problem(name: str, wrong: str) -> Problem:
    return Problem(where=f"{PREFIX}{name.upper()}", wrong=wrong, expected=MEANINGS[name])
