"""The options called out are the best there are, whoever stands where in the list."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.options import Choice, Losses, NobodyServes, choose

INF = float("inf")


def brute_force(loss: Losses, most: int, price: float) -> tuple[float, tuple[int, ...]] | None:
    """Every selection, one by one; None if none serves everybody."""
    columns = range(loss.shape[1])
    sizes = range(1, min(most, loss.shape[1]) + 1)
    selections = [each for size in sizes for each in combinations(columns, size)]
    found = [
        (round(total + price * len(each), 9), each)
        for each in selections
        if (total := float(loss[:, list(each)].min(axis=1).sum())) < INF
    ]
    return min(found, key=lambda each: (each[0], len(each[1]), each[1])) if found else None


def priced(choice: Choice, price: float) -> float:
    return choice.loss + price * len(choice.columns)


values = st.one_of(st.integers(0, 6).map(float), st.floats(0, 5), st.just(INF))
rooms = st.integers(1, 6).flatmap(
    lambda columns: st.lists(
        st.lists(values, min_size=columns, max_size=columns), min_size=1, max_size=6
    )
)


@settings(max_examples=300)
@given(rooms, st.integers(1, 3), st.sampled_from([0.0, 0.1, 1.0, 1000.0]))
def test_no_other_selection_is_better(room: list[list[float]], most: int, price: float) -> None:
    loss = np.array(room)
    best = brute_force(loss, most, price)
    if best is None:
        with pytest.raises(NobodyServes):
            choose(loss, most, price)
        return
    choice = choose(loss, most, price)
    assert priced(choice, price) == pytest.approx(best[0], abs=1e-7)
    assert len(choice.columns) <= most


@settings(max_examples=100)
@given(rooms, st.integers(0, 99))
def test_the_order_of_members_changes_nothing(room: list[list[float]], seed: int) -> None:
    loss = np.array(room)
    order = np.random.default_rng(seed).permutation(len(room))
    try:
        here = choose(loss)
    except NobodyServes:
        return
    there = choose(loss[order])
    assert there.columns == here.columns
    assert there.loss == here.loss
    assert there.assigned == tuple(here.assigned[each] for each in order)


@given(rooms)
def test_everybody_does_the_best_of_what_is_called_out(room: list[list[float]]) -> None:
    loss = np.array(room)
    try:
        choice = choose(loss)
    except NobodyServes:
        return
    assert set(choice.assigned) == set(choice.columns)
    for row, column in zip(loss, choice.assigned, strict=True):
        assert row[column] == row[list(choice.columns)].min() < INF


def test_a_large_room_is_chosen_as_by_brute_force() -> None:
    luck = np.random.default_rng(1)
    wanted = np.sort(luck.uniform(0, 1, 15))
    loss = (wanted[:, None] - np.linspace(0, 1, 20)[None, :]) ** 2
    loss[luck.uniform(size=loss.shape) < 0.2] = INF
    best = brute_force(loss, 3, 0.01)
    assert best is not None
    assert priced(choose(loss, 3, 0.01), 0.01) == pytest.approx(best[0])


def test_fewer_options_are_called_out_when_they_cost_almost_nothing() -> None:
    loss = np.array([[0.0, 1.0, 5.0], [0.05, 0.0, 5.0], [5.0, 5.0, 0.0]])
    assert choose(loss).columns == (0, 1, 2)
    assert choose(loss, price=0.1).columns == (0, 2)


def test_of_equally_good_selections_the_smaller_and_then_the_first_counts() -> None:
    assert choose(np.zeros((4, 5))).columns == (0,)
    assert choose(np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 1.0]])).columns == (0, 1)


def test_nobody_is_given_what_they_must_not_do() -> None:
    loss = np.array([[0.0, 9.0, INF], [INF, 9.0, 0.0], [INF, 9.0, INF]])
    assert choose(loss, most=1).columns == (1,)
    assert choose(loss).assigned == (0, 2, 1)


def test_a_member_for_whom_nothing_is_allowed_is_named() -> None:
    with pytest.raises(NobodyServes, match="member 1") as refused:
        choose(np.array([[0.0, 1.0], [INF, INF]]))
    assert refused.value.member == 1


def test_a_member_whom_three_options_leave_out_is_named() -> None:
    loss = np.where(np.eye(4) > 0, 0.0, INF)
    with pytest.raises(NobodyServes):
        choose(loss)


def test_an_empty_room_needs_no_options() -> None:
    assert choose(np.zeros((0, 3))) == Choice(columns=(), assigned=(), loss=0.0)


@pytest.mark.parametrize("bad", [np.array([[-1.0]]), np.array([[np.nan]])])
def test_losses_are_numbers_from_nought_up(bad: Losses) -> None:
    with pytest.raises(ValueError, match="from 0 up"):
        choose(bad)
