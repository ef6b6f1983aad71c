"""What is exported reads back to the same facts, whatever the names are."""

import csv
import io
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.errors import BadInput
from bot.reportsfile import COLUMNS, ReportsFile, read_reports_file, safe
from bot.reportsfile.write import distinct, names_only, rows_of, written
from core.movement import Dose, Measure, Movement, Variation
from core.names import LONGEST_NAME, readable, tidy
from core.plan import Plan, PlanLine
from core.reports import (
    Bout,
    Reports,
    SessionRating,
    StartingEstimate,
    Symptom,
    SymptomKind,
)

DAY = date(2026, 9, 3)
AT = datetime(2026, 9, 3, 19, tzinfo=UTC)
NAMES = st.text(max_size=70).map(tidy).filter(readable)
AMOUNTS = st.floats(0.01, 9_999, allow_nan=False)
RATINGS = st.integers(0, 100).map(lambda tenths: tenths / 10)


def line(name: str, measure: Measure) -> PlanLine:
    ladder = (Variation(name="=easy", demand=0.6), Variation(name="standard", demand=1.0))
    load = 20.0 if measure is Measure.LOAD else None
    return PlanLine(
        movement=Movement(
            name=name,
            measure=measure,
            ladder=ladder,
            standard="standard",
            smallest=4,
            largest=60,
            step=1,
            load_step=None if load is None else 2.5,
        ),
        dose=Dose(variation="=easy", amount=30, load=load, sets=2),
        target=7,
        ceiling=9,
    )


PLAN = Plan(
    lines=(line("-Plank", Measure.HOLD), line("Press", Measure.LOAD)),
    minutes=50,
    target=7,
    ceiling=9,
)


def again(reports: Reports, names: dict[str, str]) -> ReportsFile:
    """The reports as they are read from what was written."""
    text = written([COLUMNS, *names_only(names.values(), PLAN, DAY)])
    text += written(rows_of(reports.settled(), names, PLAN))
    return read_reports_file("\ufeff" + text, "answers.csv", PLAN)


def bout(movement: str, dose: Dose, **said: float | None) -> Bout:
    return Bout(member="a", session="s", on=DAY, said_at=AT, movement=movement, dose=dose, **said)


@given(NAMES)
def test_any_name_comes_back_and_none_is_run(name: str) -> None:
    text = written([COLUMNS, *names_only([name], PLAN, DAY)])
    for row in csv.reader(io.StringIO(text, newline="")):
        assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row)
    assert read_reports_file(text, "answers.csv", PLAN).members == (name,)


@pytest.mark.parametrize("name", ["=1", "'=1", "''=1", "@x", "'x", "''", "-", "'", "'-x"])
def test_an_apostrophe_of_their_own_is_not_lost(name: str) -> None:
    sheet = written([COLUMNS, *names_only([name], PLAN, DAY)])
    assert read_reports_file(sheet, "x", PLAN).members == (name,)


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@x", "\tx", "\rx", "'\tx"])
def test_whatever_begins_a_formula_gets_an_apostrophe(text: str) -> None:
    assert safe(text) == f"'{text}"


@given(st.lists(NAMES, max_size=12))
def test_equal_names_stay_apart_and_can_be_read(names: list[str]) -> None:
    told = distinct(names)
    assert len(set(told)) == len(names)
    assert all(readable(each) and len(each) <= LONGEST_NAME for each in told)
    assert again(Reports(), {str(at): each for at, each in enumerate(told)}).members == told


@given(
    amount=AMOUNTS,
    load=AMOUNTS,
    share=st.none() | st.integers(0, 99),
    effort=st.none() | RATINGS,
    reserve=st.none() | AMOUNTS,
)
def test_every_digit_of_what_was_done_comes_back(
    amount: float, load: float, share: int | None, effort: float | None, reserve: float | None
) -> None:
    completed = None if share is None else amount * share / 100
    done = bout(
        "Press",
        Dose(variation="standard", amount=amount, load=load, sets=2),
        completed=completed,
        effort=effort,
        reserve=reserve,
    )
    (read,) = again(Reports(bouts=(done,)), {"a": "Ana"}).reports.bouts
    assert read.dose == done.dose
    assert (read.effort, read.reserve) == (effort, reserve)
    assert read.completed == completed


def test_presence_estimates_and_what_hurts_come_back() -> None:
    ratings = tuple(
        SessionRating(
            member=member,
            session="s",
            on=DAY,
            said_at=AT,
            attended=attended,
            effort=effort,
            minutes=50,
        )
        for member, attended, effort in (("a", True, 7.5), ("b", False, None), ("c", True, None))
    )
    hurts = tuple(
        Symptom(member=member, kind=kind, on=DAY, said_at=AT, movement=where)
        for member, kind, where in (
            ("a", SymptomKind.PAIN, "Press"),
            ("b", SymptomKind.PAIN, None),
            ("c", SymptomKind.WARNING, None),
            ("c", SymptomKind.SORENESS, None),
            ("a", SymptomKind.PAIN, "Swimming"),
        )
    )
    guess = StartingEstimate(member="b", movement="Press", on=DAY, amount=12, load=22.5)
    reports = Reports(ratings=ratings, symptoms=hurts, estimates=(guess,))
    read = again(reports, {"a": "a", "b": "b", "c": "c"}).reports
    told = [(each.member, each.attended, each.effort) for each in read.ratings]
    assert told == [("a", True, 7.5), ("b", False, None), ("c", True, None)]
    kept = [(each.member, each.kind, each.movement) for each in read.symptoms]
    assert kept == [
        ("a", SymptomKind.PAIN, "Press"),
        ("b", SymptomKind.PAIN, None),
        ("c", SymptomKind.WARNING, None),
    ]
    assert all(each.open for each in read.symptoms)
    assert read.estimates == (guess,)


def test_what_the_plan_no_longer_knows_still_says_who_was_there() -> None:
    swum = bout("Swimming", Dose(variation="crawl", amount=20), effort=8)
    read = again(Reports(bouts=(swum,)), {"a": "Ana"}).reports
    assert read.bouts == ()
    assert [(each.attended, each.effort) for each in read.ratings] == [(True, None)]


def test_who_has_left_is_not_in_the_table() -> None:
    done = bout("Press", Dose(variation="standard", amount=8, load=20), effort=8)
    assert again(Reports(bouts=(done,)), {"b": "Ben"}).reports.bouts == ()


def test_several_parts_can_stand_one_behind_the_other() -> None:
    part = written([COLUMNS, ("Ana", "2026-09-03", "", "", "", "", "", "7", "")])
    read = read_reports_file(part + part, "answers.csv", PLAN)
    assert len(read.reports.ratings) == 2
    assert len(read.reports.settled().ratings) == 1


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("Ana,2026-09-03,Press,,8,20,,pain,", 'column amount: "8"; expected nothing in a row ab'),
        ("Ana,2026-09-03,Rowing,,,,,pain,", 'column movement: "Rowing"; expected one of'),
        ("Ana,2026-09-03,,,,,1,,", 'column completed: "1"; expected 0 for somebody who wasn\'t'),
        ("Ana,2026-09-03,,,,,0,7,", 'column completed: "0"; expected 0 for somebody who wasn\'t'),
    ],
)
def test_what_fits_nowhere_is_named(row: str, told: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_reports_file(",".join(COLUMNS) + "\n" + row + "\n", "x", PLAN)
    assert told in str(refused.value.problems[0])
