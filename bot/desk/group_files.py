"""The files of a group's export, written piece by piece, so that their size costs no memory."""

import json
from collections.abc import Iterator, Mapping
from tempfile import SpooledTemporaryFile
from typing import Any

from core.reports import Bout, Reports, SessionRating, StartingEstimate, Symptom

Record = dict[str, Any]
IN_MEMORY = 256 * 1024
"""Bytes of a file that is being written, before it goes to the disk."""


class Parts:
    """One kind of file in as many parts as it takes, none larger than `most` bytes.

    Every part begins with `head` and ends with `tail`, so that it can be read by itself.
    """

    def __init__(self, head: str, tail: str = "", *, between: str = "", most: int) -> None:
        self._head, self._tail, self._between = head, tail, between
        self._most = most
        self._files: list[SpooledTemporaryFile[bytes]] = []
        self._begun = False

    def add(self, piece: str) -> None:
        """Put a piece at the end; it begins a new part if it doesn't fit into this one."""
        content = piece.encode()
        if not self._files or self._size() + len(content) + len(self._tail) > self._most:
            self._begin()
        if self._begun:
            content = self._between.encode() + content
        self._files[-1].write(content)
        self._begun = True

    def finished(self) -> Iterator[bytes]:
        """Each part as a whole, one at a time; at least one."""
        if not self._files:
            self._begin()
        self._files[-1].write(self._tail.encode())
        for file in self._files:
            file.seek(0)
            yield file.read()
            file.close()

    @property
    def count(self) -> int:
        """How many parts there are so far."""
        return max(1, len(self._files))

    def close(self) -> None:
        """Let go of everything, finished or not."""
        for file in self._files:
            file.close()

    def _begin(self) -> None:
        if self._files:
            self._files[-1].write(self._tail.encode())
        self._files.append(SpooledTemporaryFile(max_size=IN_MEMORY))  # noqa: SIM115 - see close
        self._files[-1].write(self._head.encode())
        self._begun = False

    def _size(self) -> int:
        return self._files[-1].tell()


def as_line(record: Record) -> str:
    """A record as one line of JSON."""
    return json.dumps(record, ensure_ascii=False, separators=(",", ":"))


def answers_of(reports: Reports, names: Mapping[str, str]) -> list[Record]:
    """What was said about one class, in the order of the members."""
    facts: list[SessionRating | Bout] = [*reports.ratings, *reports.bouts]
    order = {member: place for place, member in enumerate(names)}
    known = [each for each in facts if each.member in order]
    return [
        _rating(each, names) if isinstance(each, SessionRating) else _bout(each, names)
        for each in sorted(known, key=lambda each: order[each.member])
    ]


def _rating(rating: SessionRating, names: Mapping[str, str]) -> Record:
    return {
        "member": names[rating.member],
        "movement": None,
        "attended": rating.attended,
        "noted": rating.noted,
        "effort": rating.effort,
    }


def _bout(bout: Bout, names: Mapping[str, str]) -> Record:
    return {
        "member": names[bout.member],
        "movement": bout.movement,
        "variation": bout.dose.variation,
        "amount": bout.dose.amount,
        "load": bout.dose.load,
        "sets": bout.dose.sets,
        "completed": bout.completed,
        "effort": bout.effort,
        "reserve": bout.reserve,
    }


def estimate_of(estimate: StartingEstimate, name: str) -> Record:
    """A starting estimate as a record."""
    return {
        "member": name,
        "date": estimate.on.isoformat(),
        "movement": estimate.movement,
        "amount": estimate.amount,
        "load": estimate.load,
    }


def symptom_of(symptom: Symptom, name: str) -> Record:
    """Something that hurt as a record."""
    cleared = (symptom.cleared_by_member, symptom.cleared_by_instructor)
    member, instructor = (each and each.isoformat().replace("+00:00", "Z") for each in cleared)
    return {
        "member": name,
        "date": symptom.on.isoformat(),
        "kind": symptom.kind.value,
        "movement": symptom.movement,
        "cleared_by_member": member,
        "cleared_by_instructor": instructor,
    }
