"""Beliefs kept along the way, so that a new answer or a correction costs little to take in."""

from dataclasses import dataclass
from datetime import date

from core.capacity.belief import Belief, first_belief
from core.capacity.evidence import sessions
from core.capacity.learning import learn, wait
from core.plan import Plan
from core.reports import Reports, Session


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """Every session learned so far, and the belief after each."""

    first: Belief
    learned: tuple[tuple[Session, Belief], ...] = ()

    @property
    def latest(self) -> Belief:
        """The belief after all of them."""
        return self.learned[-1][1] if self.learned else self.first

    def on(self, day: date) -> Belief:
        """The belief on a day after the last session."""
        return wait(self.latest, day)


def begin(plan: Plan, members: tuple[str, ...]) -> History:
    """A history in which nothing has been said."""
    return History(first=first_belief(plan, members))


def take_in(history: History, reports: Reports, on: date) -> History:
    """The history after settled reports up to a day: only what changed is learned anew.

    What stands before the first changed session is kept; it and the later ones are learned in
    order, which is what a fresh computation does, so the result is the same to the last digit.
    """
    wanted = sessions(reports, on)
    kept = 0
    for (session, _), new in zip(history.learned, wanted, strict=False):
        if session != new:
            break
        kept += 1
    learned = list(history.learned[:kept])
    belief = learned[-1][1] if learned else history.first
    for session in wanted[kept:]:
        belief = learn(belief, session)
        learned.append((session, belief))
    return History(first=history.first, learned=tuple(learned))
