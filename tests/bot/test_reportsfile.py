"""Reports on paper become facts, and every wrong cell is named by line and column."""

from datetime import date

import pytest

from bot.errors import BadInput
from bot.reportsfile import COLUMNS, ReportsFile, read_reports_file
from core.movement import Dose, Measure, Movement, Variation
from core.plan import Plan, PlanLine
from core.reports import Bout

HEADER = ",".join(COLUMNS) + "\n"


def movement(name: str, measure: Measure) -> Movement:
    easy, standard = Variation(name="easy", demand=0.6), Variation(name="standard", demand=1.0)
    return Movement(
        name=name,
        measure=measure,
        ladder=(easy, standard),
        standard="standard",
        smallest=4,
        largest=60,
        step=1,
        load_step=2.5 if measure is Measure.LOAD else None,
    )


def line(name: str, measure: Measure, dose: Dose) -> PlanLine:
    return PlanLine(movement=movement(name, measure), dose=dose, target=7, ceiling=9)


PLAN = Plan(
    lines=(
        line("Side plank", Measure.HOLD, Dose(variation="easy", amount=30, sets=2)),
        line("Press", Measure.LOAD, Dose(variation="standard", amount=8, load=20)),
    ),
    minutes=50,
    target=7,
    ceiling=9,
)


def read(rows: str) -> ReportsFile:
    return read_reports_file(HEADER + rows, "reports.csv", PLAN)


def problems(text: str | bytes) -> list[str]:
    with pytest.raises(BadInput) as refused:
        read_reports_file(text, "reports.csv", PLAN)
    return [str(each) for each in refused.value.problems]


def bout(rows: str) -> Bout:
    (found,) = read(rows).reports.bouts
    return found


def test_a_row_without_movement_is_the_whole_session() -> None:
    (rating,) = read("Ana,2026-09-03,,,,,,7.5,\n").reports.ratings
    assert (rating.member, rating.on, rating.effort) == ("Ana", date(2026, 9, 3), 7.5)
    assert rating.attended
    assert rating.minutes == 50


def test_a_row_with_a_movement_is_a_bout() -> None:
    found = bout("Ana,2026-09-03,side PLANK,Standard,45,,,8,10\n")
    assert found.movement == "Side plank"
    assert found.dose == Dose(variation="standard", amount=45, sets=2)
    assert (found.effort, found.reserve, found.completed) == (8, 10, None)


def test_a_set_that_was_cut_short_says_how_far_it_went() -> None:
    found = bout("Ana,2026-09-03,Side plank,easy,45,,30,10,\n")
    assert found.completed == 30
    assert found.unfinished


def test_a_set_that_was_completed_is_not_cut_short() -> None:
    assert bout("Ana,2026-09-03,Side plank,easy,45,,45,8,\n").completed is None


def test_an_amount_without_effort_says_only_what_was_done() -> None:
    found = bout("Ana,2026-09-03,Side plank,easy,45,,,,\n")
    assert (found.dose.amount, found.effort) == (45, None)


def test_what_is_not_known_of_a_dose_is_the_plans() -> None:
    assert bout("Ana,2026-09-03,Press,,,,,8,\n").dose == PLAN.lines[1].dose


def test_amount_nought_with_a_reserve_is_a_starting_estimate() -> None:
    rows = "Ana,2026-09-03,Side plank,,0,,,,40\nBo,2026-09-03,Press,standard,0,25,,,10\n"
    hold, press = read(rows).reports.estimates
    assert (hold.member, hold.amount, hold.load) == ("Ana", 40, None)
    assert (press.movement, press.amount, press.load) == ("Press", 10, 25)


def test_a_row_that_says_nothing_only_names_its_member() -> None:
    found = read("Ana,2026-09-03,Side plank,,,,,,\n")
    assert found.members == ("Ana",)
    assert found.reports.bouts == ()


def test_members_come_in_the_order_in_which_they_first_appear() -> None:
    rows = "Zoë,2026-09-03,,,,,,7,\nAna,2026-09-03,,,,,,7,\nZoë,2026-09-10,,,,,,7,\n"
    assert read(rows).members == ("Zoë", "Ana")


def test_of_two_rows_about_the_same_thing_the_later_one_counts() -> None:
    rows = "Ana,2026-09-03,,,,,,7,\nAna,2026-09-03,,,,,,9,\n"
    (rating,) = read(rows).reports.settled().ratings
    assert rating.effort == 9


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_spreadsheets_of_all_countries_are_read(separator: str) -> None:
    rows = "Ana,2026-09-03,Press,easy,8,22.5,,8,2\r\n\r\n,,,,,,,,\r\n"
    text = "\ufeff" + (HEADER + rows).replace(",", separator).replace("22.5", '"22,5"')
    (found,) = read_reports_file(text.encode(), "reports.csv", PLAN).reports.bouts
    assert found.dose.load == 22.5


def test_columns_may_stand_in_any_order() -> None:
    columns = ",".join(reversed(COLUMNS))
    text = f"{columns}\n,70 %,,,,,,2026-09-03,Ana\n"
    assert read_reports_file(text, "x", PLAN).reports.ratings[0].effort == 7


def test_the_apostrophe_of_our_own_exports_is_not_part_of_a_name() -> None:
    assert read("'-Ana,2026-09-03,,,,,,7,\n").members == ("-Ana",)


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("Ana,2026-09-03,,,,,,11,", 'column effort: "11"; expected a rating from 0 to 10'),
        ("Ana,2026-09-03,,,,,,hard,", 'column effort: "hard"; expected a rating from 0 to 10'),
        ("Ana,03.09.2026,,,,,,7,", 'column date: "03.09.2026"; expected a day such as 2026-09-03'),
        ("Ana,2026-02-30,,,,,,7,", 'column date: "2026-02-30"; expected a day such as 2026-09-03'),
        (",2026-09-03,,,,,,7,", "column member: empty; expected a name"),
        ("Ana,2026-09-03,Side plnk,,,,,7,", 'column movement: "Side plnk"; expected "Side plank"'),
        (
            "Ana,2026-09-03,Row,,,,,7,",
            'column movement: "Row"; expected one of "Side plank", "Press"',
        ),
        ("Ana,2026-09-03,Press,hard,,,,7,", 'column variation: "hard"; expected one of "easy", "s'),
        ("Ana,2026-09-03,Press,,8 reps,,,7,", 'column amount: "8 reps"; expected a number'),
        ("Ana,2026-09-03,Press,,nan,,,7,", 'column amount: "nan"; expected a number'),
        ("Ana,2026-09-03,Press,,-8,,,7,", 'column amount: "-8"; expected a number'),
        ("Ana,2026-09-03,Press,,8,0,,7,", 'column load: "0"; expected kilograms, above 0'),
        ("Ana,2026-09-03,Side plank,,8,5,,7,", 'column load: "5"; expected nothing, since'),
        ("Ana,2026-09-03,Press,,8,20,9,7,", 'column completed: "9"; expected at most the amount'),
        ("Ana,2026-09-03,Press,,0,,,,9", "column load: empty; expected kilograms"),
        (
            "Ana,2026-09-03,Press,,0,20,,,",
            "column reserve: empty; expected what they could",
        ),
        ("Ana,2026-09-03,Press,easy,0,20,,,9", 'column variation: "easy"; expected the standard'),
        ("Ana,2026-09-03,Press,,0,20,,7,9", 'column effort: "7"; expected nothing in a starting'),
        ("Ana,2026-09-03,,,30,,,7,", 'column amount: "30"; expected nothing in a row about the'),
    ],
)
def test_each_wrong_cell_is_named_by_line_and_column(row: str, told: str) -> None:
    good = "Bo,2026-09-03,,,,,,7,\n"
    (found,) = problems(HEADER + good + row + "\n" + good)
    assert found.startswith(f"reports.csv, line 3, {told}")


def test_all_wrong_cells_are_told_at_once() -> None:
    rows = "Ana,2026-09-03,,,,,,11,\nAna,2026-09-03\nAna,today,,,,,,7,\n"
    assert [each.split(":")[0] for each in problems(HEADER + rows)] == [
        "reports.csv, line 2, column effort",
        "reports.csv, line 3",
        "reports.csv, line 4, column date",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "reports.csv: no column member, date, movement"),
        (HEADER.replace("effort", "efort"), 'reports.csv, line 1: column "efort"; expected effort'),
        (HEADER.replace(",load", ""), "reports.csv, line 1: no column load; expected the header"),
        (HEADER.replace("load", "date"), 'reports.csv, line 1: column "date" twice; expected each'),
        (HEADER.encode() + b"J\xfcrgen\n", "reports.csv, line 2: characters that aren't UTF-8"),
        (HEADER + 'Ana,"2026', "reports.csv, line 2: unexpected end of data; expected CSV"),
    ],
)
def test_what_is_no_such_sheet_is_told_in_one_line(text: str | bytes, told: str) -> None:
    assert problems(text)[0].startswith(told)
