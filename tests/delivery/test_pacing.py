"""Whatever is asked of it, the pacing stays below the limits that the chat API publishes."""

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.delivery.pacing import GROUP, GROUP_WINDOW, OVERALL, OVERALL_WINDOW, Pacing
from tests.fixed_clock import NOON

SECOND = timedelta(seconds=1)
wishes = st.lists(
    st.tuples(
        st.sampled_from([1, 2, 3, *range(10, 60), -5, -5, -5]),
        st.integers(0, 1_500_000).map(lambda us: timedelta(microseconds=us)),
    ),
    max_size=150,
)


def played(wanted: list[tuple[int, timedelta]]) -> list[tuple[timedelta, int]]:
    """Send in this order, each after its pause and as long as the pacing says: (when, chat)."""
    pacing, now = Pacing(), NOON
    sent = []
    for chat, pause in wanted:
        now += pause
        now += pacing.wait(chat, now)
        assert not pacing.wait(chat, now)
        pacing.note(chat, now)
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
    assert busiest([moment for moment, _ in sent], 1) <= 25
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
    assert pacing.wait(1, NOON) == SECOND
    assert not pacing.wait(2, NOON)
    assert not pacing.wait(1, NOON + SECOND)


def test_a_class_of_forty_is_through_in_two_seconds() -> None:
    sent = played([(member, timedelta(0)) for member in range(1, 41)])
    assert sent[24][0] == timedelta(0)
    assert sent[-1][0] == SECOND


def test_a_clock_that_is_set_back_holds_nothing_up() -> None:
    pacing, ahead = Pacing(), NOON + timedelta(hours=5)
    for number in range(OVERALL):
        pacing.note(number, ahead)
    for _ in range(GROUP):
        pacing.note(-1, ahead)
    assert pacing.wait(99, NOON) <= OVERALL_WINDOW
    assert timedelta(0) < pacing.wait(-1, NOON) <= GROUP_WINDOW
    assert pacing.wait(99, NOON + OVERALL_WINDOW) == timedelta(0)
