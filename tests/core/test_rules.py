"""Tests of core.rules and core.people: every number says where it comes from."""

import ast
from pathlib import Path
from types import ModuleType

import pytest

from core import people, rules

MARKS = ("[published]", "[memory]", "[practice]", "[choice]")


@pytest.mark.parametrize("module", [rules, people], ids=["rules", "people"])
def test_every_number_has_a_sentence_and_a_mark_of_how_well_it_is_known(
    module: ModuleType,
) -> None:
    """An instructor who argues with a number must be able to see where it comes from."""
    body = ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8")).body
    for here, after in zip(body, [*body[1:], None], strict=True):
        if not isinstance(here, ast.Assign):
            continue
        assert isinstance(after, ast.Expr), ast.unparse(here)
        assert isinstance(after.value, ast.Constant), ast.unparse(here)
        assert any(mark in str(after.value.value) for mark in MARKS), ast.unparse(here)


def test_the_share_after_a_break_falls_with_the_days_away() -> None:
    """The longer they were away, the easier they begin."""
    days = [day for day, _ in rules.AFTER_BREAK]
    shares = [share for _, share in rules.AFTER_BREAK]
    assert days[0] == rules.BREAK_DAYS
    assert days == sorted(days)
    assert shares == sorted(shares, reverse=True)
    assert all(0 < share < 1 for share in shares)
