"""Repetitions to failure against load: the two published formulas and how far to trust them."""

TRUSTED_REPETITIONS = 10
"""Use up to here only (Reynolds et al. 2006, J Strength Cond Res 20:584)."""
MOST_REPETITIONS = 12
"""Beyond this a repetition maximum says nothing reliable about a single lift."""
BRZYCKI_ENDS = 37
"""Where Brzycki's line reaches zero."""


def trusted(repetitions: float) -> bool:
    """Whether the formulas are known to hold at so many repetitions to failure."""
    return 1 <= repetitions <= TRUSTED_REPETITIONS


def epley(repetitions: float) -> float:
    """Share of the one-repetition maximum that can be lifted so often: 1 / (1 + r/30).

    Defined for any number from zero up; ask `trusted` before relying on it.
    """
    if repetitions < 0:
        raise ValueError(f"repetitions can't be negative: {repetitions}")
    return 1 / (1 + repetitions / 30)


def brzycki(repetitions: float) -> float:
    """Share of the one-repetition maximum that can be lifted so often: (37 - r) / 36.

    ValueError below zero, and from 37 on, where the line has run out.
    """
    if not 0 <= repetitions < BRZYCKI_ENDS:
        raise ValueError(f"the formula holds from 0 to under {BRZYCKI_ENDS}, not at {repetitions}")
    return (BRZYCKI_ENDS - repetitions) / (BRZYCKI_ENDS - 1)


def one_repetition_maximum(load: float, repetitions: float) -> float:
    """Load that could be lifted once, in the unit given, by Epley's formula.

    ValueError outside 1 to 12 repetitions to failure.
    """
    if not 1 <= repetitions <= MOST_REPETITIONS:
        raise ValueError(f"no single lift from {repetitions} repetitions, only from 1 to 12")
    return load / epley(repetitions)
