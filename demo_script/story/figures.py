"""The weekly figures, from what really happened: how hard it was, and how many answered."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from core.rules import HALF_RANGE, MAXIMAL_EFFORT
from demo_script.story.ledger import TrueBout
from demo_script.story.tale import Tale


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """How many bouts there were, and how hard they truly were."""

    bouts: int
    in_range: int
    maximal: int

    @property
    def share_in_range(self) -> float:
        """0 to 1; 0 without bouts."""
        return self.in_range / self.bouts if self.bouts else 0.0

    @property
    def share_maximal(self) -> float:
        """0 to 1; 0 without bouts."""
        return self.maximal / self.bouts if self.bouts else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    """One line of the table."""

    week: int
    came: int
    everybody: Share
    others: Share
    """Everybody but who always goes to the maximum."""
    asked: int
    answered: int


def weekly(tale: Tale) -> tuple[Week, ...]:
    """Every week of the story."""
    return tuple(_week(tale, week) for week in tale.ledger.sessions)


def together(shares: Iterable[Share]) -> Share:
    """Several weeks as one."""
    listed = tuple(shares)
    return Share(
        bouts=sum(each.bouts for each in listed),
        in_range=sum(each.in_range for each in listed),
        maximal=sum(each.maximal for each in listed),
    )


def all_out(tale: Tale) -> frozenset[str]:
    """The names of those who go on until nothing is left."""
    return frozenset(actor.name for actor in tale.cast if actor.habits.all_out)


def table(tale: Tale, weeks: Sequence[Week]) -> list[str]:
    """The weekly figures as lines of text, 79 characters wide."""
    names = " and ".join(sorted(all_out(tale)))
    lines = [
        f"{'':13}{'everybody':^27}   {f'without {names} *':^27}   questions",
        f"week  came   {SHARES}   {SHARES}   asked  answered",
    ]
    lines += [_line(f"{each.week:>4}  {each.came:>4}", each) for each in weeks]
    total = Week(
        week=0,
        came=sum(each.came for each in weeks),
        everybody=together(each.everybody for each in weeks),
        others=together(each.others for each in weeks),
        asked=sum(each.asked for each in weeks),
        answered=sum(each.answered for each in weeks),
    )
    lines += [_line(f" all  {total.came:>4}", total), ""]
    lines += [
        f"In range: a true effort of {_range(tale)}; maximal: {MAXIMAL_EFFORT:g} or more. The bot "
        "never sees it.",
        f"* {names} goes on until nothing is left whatever the bot says: it can find that out and",
        "  tell the instructor, but not change it.",
    ]
    return lines


SHARES = f"{'bouts':>7}{'in range':>10}{'maximal':>10}"


def _line(head: str, week: Week) -> str:
    shares = "   ".join(
        f"{each.bouts:>7}{each.share_in_range:>10.0%}{each.share_maximal:>10.0%}"
        for each in (week.everybody, week.others)
    )
    return f"{head}   {shares}   {week.asked:>5}  {week.answered:>8}"


def _range(tale: Tale) -> str:
    target = tale.plan.plan.target
    return f"{target - HALF_RANGE:g} to {target + HALF_RANGE:g}"


def _week(tale: Tale, week: int) -> Week:
    bouts = [bout for bout in tale.ledger.bouts if bout.week == week]
    apart = all_out(tale)
    asked = {
        prompt
        for actor in tale.cast
        for sight in tale.witness.by(actor.account, "message")
        if sight.asks
        for prompt in sight.prompts & tale.ledger.prompts[week]
    }
    return Week(
        week=week,
        came=len({bout.member for bout in bouts}),
        everybody=_share(tale, bouts),
        others=_share(tale, [bout for bout in bouts if bout.member not in apart]),
        asked=len(asked),
        answered=len({each.prompt for each in tale.ledger.given if each.week == week}),
    )


def _share(tale: Tale, bouts: Sequence[TrueBout]) -> Share:
    return fitting(tale, [(bout.movement, bout.performance.true_effort) for bout in bouts])


def fitting(tale: Tale, efforts: Sequence[tuple[str, float]]) -> Share:
    """How many of these efforts, each of a movement, are in the range of its line."""
    return Share(
        bouts=len(efforts),
        in_range=sum(_in_range(tale, movement, effort) for movement, effort in efforts),
        maximal=sum(effort >= MAXIMAL_EFFORT for _, effort in efforts),
    )


def _in_range(tale: Tale, movement: str, effort: float) -> bool:
    line = tale.plan.plan.line(movement)
    return line is not None and abs(effort - line.target) <= HALF_RANGE
