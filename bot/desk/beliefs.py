"""Beliefs kept as a head start, so that a long history is learned once."""

from collections import OrderedDict
from dataclasses import dataclass
from datetime import date
from threading import Lock

from core import advice
from core.capacity import Belief, first_belief, learn, sessions, wait
from core.movement import Dose
from core.plan import Plan
from core.progress import Progress, progress_from
from core.reports import Reports
from core.suggestion import Advice

MOST_MEMBERS = 400
"""Of all groups whose beliefs are kept, the latest first: about 50 KB for each member."""
KEPT = 4
"""Sessions back from the last whose beliefs are kept: a large group's are a megabyte each, and what
was said longer ago hardly ever changes."""

Key = tuple[Plan, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Held:
    """What was learned last time."""

    marks: tuple[int, ...]
    """One for all that was said about each session, oldest first."""
    beliefs: tuple[tuple[int, Belief], ...]
    """After how many sessions each is, the last one last."""


_HELD: OrderedDict[Key, _Held] = OrderedDict()
_TURN = Lock()  # digests are worked out in threads


def advise(
    plan: Plan, reports: Reports, members: tuple[str, ...], on: date, ask: int = 2
) -> Advice:
    """The same as `core.advice.advise`, from what is known already."""
    settled = reports.settled()
    belief = believe(plan, settled, members, on)
    return advice.advise_from(belief, plan, settled, members, on, ask)


def called_doses(
    plan: Plan, reports: Reports, members: tuple[str, ...], on: date
) -> dict[tuple[str, str], Dose]:
    """By member and movement, what is called out to them in a session on that day."""
    if not members:
        return {}
    settled = reports.settled()
    return advice.called_doses(believe(plan, settled, members, on), plan, settled, on)


def progress_of(
    plan: Plan, reports: Reports, members: tuple[str, ...], member: str, on: date
) -> Progress:
    """The same as `core.progress.progress`, from what is known already."""
    settled = reports.settled()
    belief = believe(plan, settled, members, on)
    return progress_from(belief, plan, settled, member, on)


def believe(plan: Plan, reports: Reports, members: tuple[str, ...], on: date) -> Belief:
    """The belief on a day, from settled reports: the same to the last digit as if learned afresh.

    What is kept is only ever a head start: what was said is compared, session by session, and from
    the first one that differs all is learned again.
    """
    key = (plan, members)
    wanted = sessions(reports, on)
    marks = tuple(each.mark for each in wanted)
    learned = _head_start(key, marks) or [(0, first_belief(plan, members))]
    at, belief = learned[-1]
    for place, session in enumerate(wanted[at:], at + 1):
        belief = learn(belief, session)
        learned = [*learned[1 - KEPT :], (place, belief)]
    with _TURN:
        _HELD[key] = _Held(marks=marks, beliefs=tuple(learned))
        _HELD.move_to_end(key)
        while len(_HELD) > 1 and sum(len(who) for _, who in _HELD) > MOST_MEMBERS:
            _HELD.popitem(last=False)
    return wait(belief, on)


def _head_start(key: Key, marks: tuple[int, ...]) -> list[tuple[int, Belief]]:
    """The kept beliefs that still hold: before the first session of which something else is said.

    Also those before the last of them: the next answer may be about that session.
    """
    with _TURN:
        held = _HELD.get(key)
    if held is None:
        return []
    return [
        (at, belief)
        for at, belief in held.beliefs
        if held.marks[:at] == marks[:at] and at <= len(marks)
    ]


def forget_beliefs() -> None:
    """Begin afresh: for whoever is erased, and for tests that measure."""
    with _TURN:
        _HELD.clear()
