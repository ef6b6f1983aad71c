"""Whatever is asked of it, the pacing stays below the limits that the chat API publishes."""

from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.delivery.pacing import (
    GROUP,
    GROUP_WINDOW,
    MOST_CHATS,
    OVERALL,
    OVERALL_WINDOW,
    Pacing,
)
from tests.fixed_clock import NOON

SECOND = timedelta(seconds=1)
CHATS = st.sampled_from([1, 2, 3, *range(10, 60), -5, -5, -5])
A_MOMENT = st.integers(0, 1_500_000).map(lambda us: timedelta(microseconds=us))
wishes = st.lists(st.tuples(CHATS, A_MOMENT), max_size=150)


def played(wanted: list[tuple[int, timedelta]]) -> list[tuple[timedelta, int]]:
    """Send in this order, each after its pause and as long as the pacing says: (when, chat)."""
    pacing, now = Pacing(), NOON
    sent = []
    for chat, pause in wanted:
        now += pause
        now += pacing.wait(chat, now)
        assert not pacing.wait(chat, now)
        pacing.note(chat, now)
        pacing.landed(now)
        sent.append((now - NOON, chat))
    return sent


def busiest(moments: list[timedelta], seconds: int) -> int:
    """The most that falls in any window of this length, its end not included."""
    return max(
        (sum(timedelta(0) <= m - first < seconds * SECOND for m in moments) for first in moments),
        default=0,
    )


@given(wishes)
def test_no_second_has_more_than_thirty_and_no_group_minute_more_than_twenty(
    wanted: list[tuple[int, timedelta]],
) -> None:
    sent = played(wanted)
    assert busiest([moment for moment, _ in sent], 1) <= 29
    assert busiest([moment for moment, chat in sent if chat == -5], 60) <= 18


@given(wishes, st.integers(1, 20))
def test_no_chat_gets_more_than_one_a_second_after_a_burst_of_two(
    wanted: list[tuple[int, timedelta]], seconds: int
) -> None:
    sent = played(wanted)
    for chat in {chat for _, chat in sent}:
        assert busiest([at for at, to in sent if to == chat], seconds) <= seconds + 1


def test_a_lively_group_gets_eighteen_in_its_first_minute() -> None:
    sent = played([(-5, timedelta(0))] * 40)
    assert sum(moment < 60 * SECOND for moment, _ in sent) == 18
    assert busiest([moment for moment, _ in sent], 60) == 18


def test_a_first_pair_goes_at_once_and_a_third_waits() -> None:
    pacing = Pacing()
    for _ in range(2):
        assert not pacing.wait(1, NOON)
        pacing.note(1, NOON)
        pacing.landed(NOON)
    assert pacing.wait(1, NOON) == SECOND
    assert not pacing.wait(2, NOON)
    assert not pacing.wait(1, NOON + SECOND)


def test_a_class_of_forty_is_through_in_two_seconds() -> None:
    sent = played([(member, timedelta(0)) for member in range(1, 41)])
    assert sent[28][0] == timedelta(0)
    assert sent[-1][0] == SECOND


@given(st.lists(st.tuples(A_MOMENT, A_MOMENT, st.floats(0, 1)), max_size=120))
def test_however_late_they_arrive_no_second_has_more_than_thirty(
    flights: list[tuple[timedelta, timedelta, float]],
) -> None:
    """Each is claimed after a pause, arrives somewhere on its way, and lands when it's answered."""
    pacing, now, landing, arrivals = Pacing(), NOON, list[datetime](), list[timedelta]()
    for chat, (pause, way, share) in enumerate(flights):
        now += pause / 50
        while True:
            for each in sorted(at for at in landing if at <= now):
                pacing.landed(each)
                landing.remove(each)
            wait = pacing.wait(chat, now)
            if not wait:
                break
            now = min([now + wait, *landing])
        pacing.note(chat, now)
        landing.append(now + way)
        arrivals.append(now + share * way - NOON)
    assert busiest(arrivals, 1) <= 30


def test_chats_that_are_at_rest_are_forgotten() -> None:
    pacing = Pacing()
    for number in range(3 * MOST_CHATS):
        at = NOON + number * SECOND
        for chat in (number, -number - 1):
            pacing.note(chat, at)
            pacing.landed(at)
    assert len(pacing._free_at) <= MOST_CHATS + 1
    assert len(pacing._groups) <= MOST_CHATS + 1


def test_a_clock_that_is_set_back_holds_nothing_up() -> None:
    pacing, ahead = Pacing(), NOON + timedelta(hours=5)
    for number in range(OVERALL):
        pacing.note(number, ahead)
        pacing.landed(ahead)
    for _ in range(GROUP):
        pacing.note(-1, ahead)
    assert pacing.wait(99, NOON) <= OVERALL_WINDOW
    assert timedelta(0) < pacing.wait(-1, NOON) <= GROUP_WINDOW
    assert pacing.wait(99, NOON + OVERALL_WINDOW) == timedelta(0)
