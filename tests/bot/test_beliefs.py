"""Kept beliefs are a head start: the same numbers as learning it all afresh."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from bot.desk import beliefs
from core.advice import believe as afresh
from core.capacity import Belief, Session, learn
from core.progress import progress
from core.reports import Reports
from tests.simulation.plans import mixed
from tests.simulation.rooms import FIRST, Room, make_room
from tests.simulation.rules_of_thumb import one_dose_for_all

WEEKS = 7
LATER = FIRST + timedelta(weeks=WEEKS)


@pytest.fixture(scope="module")
def room() -> Room:
    """Five people after some classes."""
    return make_room(mixed(3), 5, 4, answers=1.0).train(one_dose_for_all, WEEKS)


@pytest.fixture
def learned(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The sessions that are learned from now on, by name; nothing is kept from before."""
    names: list[str] = []

    def noting(belief: Belief, session: Session) -> Belief:
        names.append(session.name)
        return learn(belief, session)

    beliefs.forget_beliefs()
    monkeypatch.setattr("bot.desk.beliefs.learn", noting)
    return names


def up_to(room: Room, week: int) -> Reports:
    """What was said until that week's class, with it."""
    last = FIRST + timedelta(weeks=week)
    said = room.reports
    return Reports(
        ratings=tuple(each for each in said.ratings if each.on <= last),
        bouts=tuple(each for each in said.bouts if each.on <= last),
    ).settled()


def same(room: Room, reports: Reports, members: tuple[str, ...] | None = None) -> None:
    """Whatever is kept, what comes out is the same to the last digit."""
    who = members or room.members
    kept = beliefs.believe(room.plan, reports, who, LATER)
    fresh = afresh(room.plan, reports, who, LATER)
    for name in ("mean", "cov", "pull", "group_mean", "group_cov", "seen", "answered"):
        assert np.array_equal(getattr(kept, name), getattr(fresh, name)), name


def test_every_week_only_the_new_class_is_learned(room: Room, learned: list[str]) -> None:
    for week in range(WEEKS):
        learned.clear()
        same(room, up_to(room, week))
        assert learned == [f"week {week:03}"]


def test_asked_twice_nothing_is_learned(room: Room, learned: list[str]) -> None:
    same(room, room.reports.settled())
    learned.clear()
    same(room, room.reports.settled())
    assert learned == []


def test_an_answer_after_a_look_costs_no_more_than_its_class(
    room: Room, learned: list[str]
) -> None:
    for _ in range(2):  # who only looks takes no head start away
        same(room, room.reports.settled())
    learned.clear()
    last = f"week {WEEKS - 1:03}"
    ratings = tuple(
        replace(each, effort=10.0) if each.session == last else each
        for each in room.reports.ratings
    )
    same(room, replace(room.reports, ratings=ratings).settled())
    assert learned == [last]


def test_a_corrected_answer_is_learned_with_what_came_after(room: Room, learned: list[str]) -> None:
    same(room, room.reports.settled())
    for week, again in ((5, 2), (1, WEEKS)):
        learned.clear()
        changed = tuple(
            replace(each, effort=10.0) if each.session == f"week {week:03}" else each
            for each in room.reports.ratings
        )
        same(room, replace(room.reports, ratings=changed).settled())
        assert len(learned) == again


def test_fewer_answers_or_other_people_are_no_trap(room: Room, learned: list[str]) -> None:
    same(room, room.reports.settled())
    same(room, up_to(room, 3))
    same(room, Reports())
    same(room, room.reports.settled(), room.members[:3])
    assert learned.count("week 000") > 1, "other people are learned from the start"


def test_only_so_many_groups_are_kept(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bot.desk.beliefs.MOST_MEMBERS", 4 * len(room.members))
    for count in range(9):
        who = tuple(f"{each} {count}" for each in room.members)
        beliefs.believe(room.plan, Reports(), who, LATER)
    assert len(beliefs._HELD) == 4
    crowd = tuple(f"guest {at}" for at in range(5 * len(room.members)))
    beliefs.believe(room.plan, Reports(), crowd, LATER)
    assert [len(who) for _, who in beliefs._HELD] == [len(crowd)], "the latest is kept in any case"


def test_what_is_called_out_is_what_the_advice_says(room: Room) -> None:
    """Without the reasons it's worked out faster, and the same."""
    doses = beliefs.called_doses(room.plan, room.reports, room.members, LATER)
    advice = beliefs.advise(room.plan, room.reports, room.members, LATER)
    assert doses == {(each.member, each.movement): each.dose for each in advice.called}


def test_progress_is_told_without_learning_it_all_anew(
    room: Room, learned: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    beliefs.believe(room.plan, room.reports.settled(), room.members, LATER)
    begun, known = list[str](), 0

    def noting(belief: Belief, session: Session) -> Belief:
        begun.append(session.name)
        return learn(belief, session)

    learned.clear()
    for member in room.members:
        fresh = progress(room.plan, room.reports, room.members, member, LATER)
        with monkeypatch.context() as patched:
            patched.setattr("core.standing.learn", noting)
            told = beliefs.progress_of(room.plan, room.reports, room.members, member, LATER)
        assert told == fresh
        known += sum(each.began is not None for each in fresh.standings)
    assert learned == []
    assert known > 0
    assert 0 < len(begun) < WEEKS * len(room.members), "only until it's known where they began"


def test_in_a_group_without_members_nobody_is_called(room: Room) -> None:
    assert beliefs.called_doses(room.plan, Reports(), (), LATER) == {}
