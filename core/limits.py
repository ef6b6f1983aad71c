"""What is never passed, whatever the belief says: which doses one member may be given next."""

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core import rules
from core.doses import Doses, doses
from core.movement import Dose
from core.plan import PlanLine
from core.record import Record, done_of

Mask = NDArray[np.bool_]
TINY = 1e-9


def allowed(line: PlanLine, offered: Doses, record: Record) -> Mask:
    """Which of the offered doses this member may be given; at least one always is."""
    base = record.last.dose if record.last is not None else None
    if base is None:
        mask = _before_the_first(line, offered, record)
    else:
        mask = raised_a_little(line, base, record.done).copy()
        if record.spent or record.pain:
            mask &= _within(line, offered, base, record.done, 1.0)
        if record.maximal is not None:
            mask &= _within(line, offered, record.maximal.dose, done_of(record.maximal), 1.0)
        if record.days_away is not None:
            mask &= _eased(line, offered, base, record.done, record.days_away)
    return mask if mask.any() else _easiest(offered)


def _before_the_first(line: PlanLine, offered: Doses, record: Record) -> Mask:
    """The plan's easier start for the unknown; never more than planned, unless they estimated."""
    planned = line.dose
    if record.estimate is not None and not record.pain and record.days_away is None:
        return offered.rungs <= line.movement.rung(planned.variation)
    known = record.heard and not (record.pain or record.spent or record.days_away is not None)
    share = 1.0 if known else rules.EASIER_START
    return _within(line, offered, planned, planned.amount, share)


@lru_cache(maxsize=4096)
def raised_a_little(line: PlanLine, base: Dose, done: float) -> Mask:
    """At most one step or ten percent more, or one rung up with no more of it; read-only.

    Members who did the same may do the same, so that it is worked out once.
    """
    offered = doses(line)
    movement = line.movement
    rung, demand = movement.rung(base.variation), movement.demand(base.variation)
    amount = max(done * rules.LARGEST_RAISE, done + movement.step) + TINY
    load = base.load or line.dose.load or 1.0
    heavier = max(load * rules.LARGEST_RAISE, load + (movement.load_step or 0.0)) + TINY
    no_more, no_heavier = offered.amount <= done + TINY, offered.load <= load + TINY
    same = (offered.amount <= amount) & no_heavier
    if offered.loaded:
        same |= (offered.load <= heavier) & no_more
        same |= _lighter(offered, base, done, load)
    lower = offered.amount * offered.load * offered.demand <= amount * load * demand
    up = no_more & no_heavier & (offered.rungs <= rung + rules.LARGEST_LADDER_STEP)
    mask = np.select([offered.rungs == rung, offered.rungs < rung], [same, lower & no_heavier], up)
    mask.setflags(write=False)
    return mask


def _eased(line: PlanLine, offered: Doses, base: Dose, done: float, days: int) -> Mask:
    """Easier than the last time, the more so the longer they were away."""
    share = min(share for least, share in rules.AFTER_BREAK if days >= least)
    movement = line.movement
    load = base.load or line.dose.load or 1.0
    fewer = _below(share * done, done, movement.step)
    mask = _within(line, offered, base, fewer, 1.0)
    if offered.loaded:
        lighter = _below(share * load, load, movement.load_step or load / 10)
        mask |= _within(line, offered, replace(base, load=lighter), done, 1.0)
    return mask


def _below(wanted: float, last: float, step: float) -> float:
    """The multiple of the step nearest to what is wanted, but a step below the last at least."""
    return min(round(wanted / step) * step, (math.ceil(last / step - TINY) - 1) * step)


def _within(line: PlanLine, offered: Doses, base: Dose, done: float, share: float) -> Mask:
    """At most this share of a dose, in the amount or the load, here or on an easier variation."""
    movement = line.movement
    rung, demand = movement.rung(base.variation), movement.demand(base.variation)
    load = base.load or line.dose.load or 1.0
    fewer = (offered.amount <= share * done + TINY) & (offered.load <= load + TINY)
    if offered.loaded:
        fewer |= _lighter(offered, base, done, share * load)
    work = offered.amount * offered.load * offered.demand
    lower = (work <= share * done * load * demand + TINY) & (offered.load <= load + TINY)
    return np.where(offered.rungs == rung, fewer, (offered.rungs < rung) & lower)


def _lighter(offered: Doses, base: Dose, done: float, load: float) -> Mask:
    """Less load for no more repetitions than were to be done, and no harder a lift (Epley).

    Of a set of 10 that ended at 6, 8 are allowed with less, though not with the same.
    """
    lift = load * (1 + done / 30)
    return (
        (offered.load * (1 + offered.amount / 30) <= lift + TINY)
        & (offered.amount <= max(base.amount, done) + TINY)
        & (offered.load <= load + TINY)
    )


def _easiest(offered: Doses) -> Mask:
    """The easiest of all, where nothing else is left: the first rung's smallest and lightest."""
    work = np.where(offered.rungs == 0, offered.amount * offered.load, np.inf)
    return np.asarray(work <= work.min() + TINY)
