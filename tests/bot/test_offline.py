"""Those who collect ratings on paper get the same suggestions, in three forms."""

import csv
import json
from datetime import date
from io import StringIO
from pathlib import Path

import pytest

from bot.errors import BadInput
from bot.offline import Format, check_plan, suggest
from bot.offline.shapes import safe_cell
from bot.reportsfile import COLUMNS

PLAN = """\
[group]
name = "Harbour Hall strength"
timezone = "Europe/Lisbon"
starts = 2026-09-03T18:30:00
rrule = "FREQ=WEEKLY;BYDAY=TH"
minutes = 50
[[movement]]
library = "side plank"
plan = { variation = "feet stacked", amount = 30, sets = 2 }
[[movement]]
library = "wall sit"
plan = { variation = "halfway", amount = 30 }
"""
ROWS = """\
Ana,2026-09-03,,,,,,8,
Ana,2026-09-03,Side plank,feet stacked,60,,45,10,
Bo,2026-09-03,Side plank,,30,,,6,
Bo,2026-09-03,wall sit,,,,,"7,5",10
Bo,2026-09-10,wall sit,,30,,,10,
Bo,2026-09-17,wall sit,,30,,20,10,
'=cmd(),2026-09-03,Wall sit,,0,,,,90
"""
MEMBERS = ["Ana", "Bo", "=cmd()"]


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.toml"
    path.write_text(PLAN)
    return path


@pytest.fixture
def reports(tmp_path: Path) -> Path:
    path = tmp_path / "reports.csv"
    path.write_text(",".join(COLUMNS) + "\n" + ROWS)
    return path


def test_a_plan_is_summed_up_with_its_next_dates_and_ladders(plan: Path) -> None:
    told = check_plan(plan)
    assert "Harbour Hall strength: 50 minutes, Europe/Lisbon" in told
    assert "Thu 3 Sept, 18:30, Thu 10 Sept, 18:30, Thu 17 Sept, 18:30, …" in told
    assert "1. Side plank: 2 × 30 s, feet stacked" in told
    assert "high 0.5 < halfway 0.75 < thighs level 1 < one leg 1.9" in told


def test_json_has_one_suggestion_per_member_and_movement(plan: Path, reports: Path) -> None:
    found = json.loads(suggest(plan, reports, format=Format.JSON))
    assert list(found) == ["suggestions", "options", "ask", "alerts"]
    pairs = [(each["member"], each["movement"]) for each in found["suggestions"]]
    assert sorted(pairs) == sorted(
        (member, movement) for member in MEMBERS for movement in ("Side plank", "Wall sit")
    )
    for each in found["suggestions"]:
        assert list(each) == [
            "member",
            "movement",
            "variation",
            "amount",
            "load",
            "expected_effort",
            "chance_over_ceiling",
            "change",
            "reason",
            "alternative",
        ]
        assert each["change"] in ("easier", "same", "harder")
        assert 0 <= each["chance_over_ceiling"] <= 1
        assert each["reason"].endswith(".")


def test_json_options_place_every_member_once(plan: Path, reports: Path) -> None:
    found = json.loads(suggest(plan, reports, format=Format.JSON))
    for movement in ("Side plank", "Wall sit"):
        options = [each for each in found["options"] if each["movement"] == movement]
        assert 1 <= len(options) <= 3
        assert sorted(name for each in options for name in each["members"]) == sorted(MEMBERS)
        assert {"movement", "variation", "amount", "load", "members"} == set(options[0])


def test_json_says_whom_to_ask_what_and_who_keeps_going_to_the_maximum(
    plan: Path, reports: Path
) -> None:
    found = json.loads(suggest(plan, reports, ask=1, format=Format.JSON))
    assert set(found["ask"]) == set(MEMBERS)
    assert all(len(movements) <= 1 for movements in found["ask"].values())
    (alert,) = [each for each in found["alerts"] if each["kind"] == "maximal movement"]
    assert alert["member"] == "Bo"
    assert "Wall sit" in alert["reason"]


def test_csv_has_a_row_per_suggestion_and_no_formulas(plan: Path, reports: Path) -> None:
    rows = list(csv.DictReader(StringIO(suggest(plan, reports, format=Format.CSV))))
    assert len(rows) == 6
    assert {row["member"] for row in rows} == {"Ana", "Bo", "'=cmd()"}
    assert all(row["option_variation"] for row in rows)


@pytest.mark.parametrize("text", ["=1", "+1", "-1", "@a", "\ta", "\ra"])
def test_a_cell_that_looks_like_a_formula_is_made_text(text: str) -> None:
    assert safe_cell(text) == "'" + text


def test_cells_that_are_no_formulas_stay_as_they_are() -> None:
    assert [safe_cell(each) for each in ("Ana", -1, 2.5, None)] == ["Ana", "-1", "2.5", ""]


def test_the_table_names_everyone_and_says_that_it_is_no_medical_advice(
    plan: Path, reports: Path
) -> None:
    told = suggest(plan, reports)
    assert told.startswith("Harbour Hall strength, Thu 24 Sept\n")
    assert all(member in told for member in MEMBERS)
    assert "no medical advice" in told


def test_another_day_may_be_asked_for(plan: Path, reports: Path) -> None:
    assert suggest(plan, reports, on=date(2026, 10, 1)).startswith(
        "Harbour Hall strength, Thu 1 Oct\n"
    )


def test_after_the_last_class_of_a_timetable_it_is_a_week_later(plan: Path, reports: Path) -> None:
    plan.write_text(PLAN.replace("BYDAY=TH", "BYDAY=TH;COUNT=3"))
    assert suggest(plan, reports).startswith("Harbour Hall strength, Thu 24 Sept\n")


def test_without_any_reports_it_is_the_first_class(plan: Path, reports: Path) -> None:
    reports.write_text(",".join(COLUMNS) + "\n")
    assert suggest(plan, reports).startswith("Harbour Hall strength, Thu 3 Sept\n")
    found = json.loads(suggest(plan, reports, format=Format.JSON))
    assert found == {"suggestions": [], "options": [], "ask": {}, "alerts": []}


def test_a_file_that_is_not_there_is_named(plan: Path, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=r"none\.csv: no such file or directory; expected a file"):
        suggest(plan, tmp_path / "none.csv")
    with pytest.raises(BadInput, match="is a directory"):
        check_plan(tmp_path)
