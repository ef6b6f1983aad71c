"""What a timetable changes about the classes that exist: the same class is known again."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.desk.matching import match
from bot.storage.sessions import Session

START = datetime(2026, 9, 3, 17, 30, tzinfo=UTC)
DAY, HOUR = timedelta(days=1), timedelta(hours=1)


def session(slot: str, starts_at: datetime = START, event: str | None = None) -> Session:
    """A class; its id tells where it comes from."""
    return Session(
        id=f"id of {slot}",
        group_id="group",
        plan_id="plan",
        slot=slot,
        starts_at=starts_at,
        ends_at=starts_at + HOUR,
        local_day=starts_at.date(),
        cancelled=False,
        moved=False,
        event=event,
    )


def test_what_is_planned_as_it_is_changes_nothing() -> None:
    one, other = session("a"), session("b", START + DAY)
    changes = match([one, other], [other, one])
    assert changes.is_nothing
    assert {each.id for each in changes.same} == {one.id, other.id}


def test_the_same_event_is_the_same_class_wherever_it_goes() -> None:
    old = session("a", event="x")
    new = session("b", START + 3 * DAY, event="x")
    changes = match([old], [new])
    ((before, after),) = changes.moved
    assert before is old
    assert (after.id, after.starts_at, after.slot) == (old.id, new.starts_at, "b")
    assert not changes.new
    assert not changes.gone


def test_a_class_that_had_no_event_is_known_by_slot_or_start_or_day() -> None:
    for other in (
        session("a", START + DAY, event="x"),
        session("b", START, event="x"),
        session("c", START + HOUR, event="x"),
    ):
        changes = match([session("a")], [other])
        assert [each.id for each in (*changes.same, *(new for _, new in changes.moved))] == [
            "id of a"
        ]
        assert not changes.new


def test_two_classes_on_a_day_are_not_guessed_at() -> None:
    changes = match(
        [session("a", START), session("b", START + 2 * HOUR)], [session("c", START + HOUR)]
    )
    assert len(changes.gone) == 2
    assert len(changes.new) == 1


def test_what_was_made_by_hand_stays_whatever_is_planned() -> None:
    by_hand = replace(session("a", START + DAY), by_hand=True, moved=True)
    changes = match([by_hand], [session("a")])
    assert changes.is_nothing
    assert changes.by_hand[0][0] is by_hand
    assert match([by_hand], []).gone == ()


def test_what_the_timetable_cancelled_comes_back_with_it() -> None:
    off = replace(session("a"), cancelled=True)
    assert [each.id for each in match([off], [session("a")]).back] == [off.id]
    assert match([off], []).is_nothing


SESSIONS = st.lists(
    st.builds(
        lambda at, event: session(
            f"slot {at}", START + at * HOUR, None if event is None else f"event {event}"
        ),
        st.integers(0, 40),
        st.none() | st.integers(0, 9),
    ),
    max_size=8,
    unique_by=(lambda each: each.slot, lambda each: each.event or each.slot),
)


@given(SESSIONS, SESSIONS)
def test_nothing_is_lost_and_nothing_is_doubled(
    existing: list[Session], planned: list[Session]
) -> None:
    changes = match(existing, planned)
    stay = [*changes.same, *(new for _, new in changes.moved)]
    assert sorted(each.starts_at for each in (*stay, *changes.new)) == sorted(
        each.starts_at for each in planned
    )
    assert sorted(each.id for each in (*stay, *changes.gone)) == sorted(
        each.id for each in existing
    )
