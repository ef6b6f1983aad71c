"""What can go wrong, as a small family tree that carries facts and no sentences.

ClassEffortError
├── Stopped        we were told to stop before everything was open
├── Refused        what we don't accept from a person: answered in chat, or exit code 2
│   └── BadInput   a file, line or field that isn't what was expected
└── Broken         what failed on our side: logged, retried, or a reason to stop
    ├── DatabaseTooNew
    ├── AlreadyRunning
    ├── StorageTrouble   the database can't be used at the moment: full, read-only, locked
    ├── NotDrawn         a picture, or the page to print
    ├── ChatRefusesUs
    └── NoUpdates        the chat API was out of reach for too long
"""

from dataclasses import dataclass
from enum import StrEnum


class ClassEffortError(Exception):
    """The root: everything this program raises on purpose."""


class Stopped(ClassEffortError):
    """We were told to stop before everything was open."""


class Refused(ClassEffortError):
    """Something a person asked for that is not accepted."""


class Broken(ClassEffortError):
    """Something that failed on our side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with an input: where it stands, what is wrong, what was expected."""

    where: str
    """A file, line or field, such as `movement 2 ("Side plank"), plan.amount`."""
    wrong: str
    expected: str

    def __str__(self) -> str:
        return f"{self.where}: {self.wrong}; expected {self.expected}"


class BadInput(Refused):
    """An input that isn't what was expected; lists every problem that was found."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(map(str, problems)))
        self.problems = problems


class DatabaseTooNew(Broken):
    """The file was written by a newer version of this program."""

    def __init__(self, found: int, known: int) -> None:
        super().__init__(found, known)
        self.found = found
        self.known = known


class AlreadyRunning(Broken):
    """Another process holds this database."""

    def __init__(self, path: str) -> None:
        super().__init__(path)
        self.path = path


class ChatRefusesUs(Broken):
    """The chat API won't talk to us: a wrong token, or another process uses it."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class Trouble(StrEnum):
    """Why a database can't be used at the moment."""

    FULL = "full"
    READ_ONLY = "read-only"
    LOCKED = "locked"
    FAILING = "failing"
    """The disk, or whatever lies beneath it, failed."""
    AWAY = "away"
    """The server that keeps it can't be reached."""


class StorageTrouble(Broken):
    """The database can't be used at the moment. Told once by the storage; all others only wait."""

    def __init__(self, trouble: Trouble) -> None:
        super().__init__(trouble.value)
        self.trouble = trouble


class NotDrawn(Broken):
    """A picture could not be drawn; what it would have shown is said in words anyway."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class NoUpdates(Broken):
    """The chat API has given no answer for several polls: a fresh start may help."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason
