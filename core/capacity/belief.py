"""The belief: means and covariances of everybody's log strengths and the group's numbers."""

from dataclasses import dataclass, fields
from datetime import date

import numpy as np
from numpy.typing import NDArray

from core import people
from core.capacity.frame import Frame, Place, frame
from core.capacity.laws import Numbers
from core.plan import Plan
from core.reports import Session


@dataclass(frozen=True, slots=True, kw_only=True)
class Belief:
    """What is known of a group on one day. Arrays are read-only; members stand in their rows.

    The members' numbers are given *if* the group's are at their mean; `pull` says how they move
    with them. That keeps everybody apart although everybody informs the group, so that cost grows
    with the number of members alone (separated bias estimation: Friedland 1969, IEEE Transactions
    on Automatic Control 14:359).
    """

    frame: Frame
    members: tuple[str, ...]
    """In the order of their names."""
    on: date | None
    """The day that this belief is about; None before the first."""
    mean: Numbers
    """Shape (members, numbers)."""
    cov: Numbers
    """Shape (members, numbers, numbers)."""
    pull: Numbers
    """Shape (members, numbers, group's numbers)."""
    group_mean: Numbers
    group_cov: Numbers
    seen: NDArray[np.int64]
    """Day on which each was last in class, as an ordinal; 0 for never."""
    answered: NDArray[np.int64]
    """How many classes each has answered about."""
    recent: "Recent | None" = None
    """The session learned last, as long as it isn't weighed; None if there is none."""

    @property
    def rating_sd(self) -> Numbers:
        """Noise in each member's ratings, in points: more as long as they are new to the scale."""
        new = self.answered < people.NEW_RATER_CLASSES
        return np.where(new, people.NEW_RATER_SD, people.RATER_SD)

    def __post_init__(self) -> None:
        """Nobody changes a belief; learning makes a new one."""
        for each in fields(self):
            value = getattr(self, each.name)
            if isinstance(value, np.ndarray):
                value.setflags(write=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unweighed:
    """A session that was just learned so that a worse answer never makes anything harder."""

    session: Session
    before: Belief
    """What was believed before it, on its day."""
    learned: Belief
    """What it left, itself forgotten."""


@dataclass(slots=True, kw_only=True)
class Recent:
    """The last session: that it makes nothing harder costs some of what it tells.

    So it's weighed again, as a whole, when the next one is learned.
    """

    unweighed: Unweighed | None
    """None once it's weighed: what isn't needed any more takes no memory."""
    weighed: Belief | None = None
    """What it leaves then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """What is known of everybody's strength on a movement's variations; shape (members, rungs)."""

    mean: Numbers
    """Log strength left after what the variation takes."""
    sd: Numbers
    """Its uncertainty."""
    taken: Numbers
    """Log strength that each variation takes from somebody typical of the group; shape (rungs,)."""
    day_sd: float
    """How much it varies from day to day besides."""

    @property
    def total_sd(self) -> Numbers:
        """Uncertainty of what they can do on one given day."""
        return np.sqrt(self.sd**2 + self.day_sd**2)


def first_belief(plan: Plan, members: tuple[str, ...]) -> Belief:
    """What is supposed of a group before anybody has said anything."""
    layout = frame(plan)
    count = len(members)
    return Belief(
        frame=layout,
        members=tuple(sorted(members)),
        on=None,
        mean=np.tile(layout.start(), (count, 1)),
        cov=np.tile(layout.spread(), (count, 1, 1)),
        pull=np.tile(layout.pull(), (count, 1, 1)),
        group_mean=np.zeros(layout.group_size),
        group_cov=layout.group_spread(),
        seen=np.zeros(count, dtype=np.int64),
        answered=np.zeros(count, dtype=np.int64),
    )


def outlook(belief: Belief, place: Place) -> Outlook:
    """What this belief says about one movement, with all doubt about the group included."""
    rungs = np.arange(len(place.shifts))
    weights = place.weights(rungs, belief.frame.size)
    corrections = np.array(place.corrections)
    known = np.flatnonzero(corrections >= 0)
    taken = np.array(place.shifts)
    taken[known] += belief.group_mean[corrections[known]]
    pull = np.einsum("rk,nkg->nrg", weights, belief.pull)
    pull[:, known, corrections[known]] -= 1.0
    own = np.einsum("nrk,rk->nr", weights @ belief.cov, weights)
    shared = np.einsum("nrg,nrg->nr", pull @ belief.group_cov, pull)
    mean = belief.mean @ weights.T - taken
    return Outlook(mean=mean, sd=np.sqrt(own + shared), taken=taken, day_sd=place.day_sd)
