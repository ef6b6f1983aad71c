"""Advice in the shapes that other programs rely on: JSON, and CSV that is safe to open."""

import csv
import json
from collections.abc import Sequence
from io import StringIO
from typing import Any

from bot.reportsfile import safe
from bot.words.printed import ENGLISH, alert_reason
from bot.words.reasons import because_of
from core.movement import Dose, Movement
from core.plan import Plan
from core.suggestion import Advice, Suggestion
from core.watching import Alert

COLUMNS = (
    "member",
    "movement",
    "variation",
    "amount",
    "load",
    "expected_effort",
    "chance_over_ceiling",
    "change",
    "reason",
    "alternative_variation",
    "alternative_amount",
    "alternative_load",
    "option_variation",
    "option_amount",
    "option_load",
)


def as_json(plan: Plan, advice: Advice, alerts: Sequence[Alert]) -> str:
    """All of it as one JSON object."""
    movements = {line.movement.name: line.movement for line in plan.lines}
    shape = {
        "suggestions": [_suggestion(each, movements[each.movement]) for each in advice.suggestions],
        "options": [
            {"movement": each.movement, **_dose(each.dose), "members": list(each.members)}
            for each in advice.options
        ],
        "ask": {each.member: list(each.movements) for each in advice.asks},
        "alerts": [
            {"member": each.member, "kind": each.kind, "reason": alert_reason(each)}
            for each in alerts
        ],
    }
    return json.dumps(shape, ensure_ascii=False, indent=2) + "\n"


def as_csv(plan: Plan, advice: Advice) -> str:
    """One row per suggestion, with the option that the member belongs to; every cell quoted."""
    movements = {line.movement.name: line.movement for line in plan.lines}
    options = {
        (option.movement, member): option.dose
        for option in advice.options
        for member in option.members
    }
    text = StringIO(newline="")
    sheet = csv.writer(text, quoting=csv.QUOTE_ALL)
    sheet.writerow(COLUMNS)
    for each in advice.suggestions:
        row = _suggestion(each, movements[each.movement])
        alternative = row.pop("alternative") or dict.fromkeys(("variation", "amount", "load"))
        option = _dose(options[each.movement, each.member])
        cells = (*row.values(), *alternative.values(), *option.values())
        sheet.writerow([safe_cell(cell) for cell in cells])
    return text.getvalue()


def safe_cell(value: object) -> str:
    """A cell that no spreadsheet takes for a formula; numbers and None are plain."""
    if value is None:
        return ""
    return safe(value) if isinstance(value, str) else str(value)


def _suggestion(suggestion: Suggestion, movement: Movement) -> dict[str, Any]:
    alternative = suggestion.alternative
    return {
        "member": suggestion.member,
        "movement": suggestion.movement,
        **_dose(suggestion.dose),
        "expected_effort": round(suggestion.expected_effort, 2),
        "chance_over_ceiling": round(suggestion.chance_over_ceiling, 4),
        "change": suggestion.change,
        "reason": because_of(ENGLISH, suggestion, movement, suggestion.member),
        "alternative": None if alternative is None else _dose(alternative),
    }


def _dose(dose: Dose) -> dict[str, Any]:
    load = None if dose.load is None else _number(dose.load)
    return {"variation": dose.variation, "amount": _number(dose.amount), "load": load}


def _number(number: float) -> float | int:
    """Whole numbers without a decimal point; others without the dust of binary fractions."""
    return int(number) if number == int(number) else round(number, 4)
