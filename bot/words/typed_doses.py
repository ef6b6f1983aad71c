"""Doses as people write them: `2 x 30`, `3 × 8 with 20 kg`, `45 s`, `22.5 kg`."""

import re
from dataclasses import dataclass

NUMBER = r"([0-9]{1,4}(?:[.,][0-9]{1,2})?)"
TIMES = r"\s*(?:x|×|\*|sets?\s+of|mal|por|sätze?\s+(?:zu|à)|series?\s+de)\s*"
UNIT = (
    r"(?:s|sec|secs|seconds?|seg|segundos?|sek|sekunden?|min|minutes?|minutos?|minuten?|"
    r"reps?|repetitions?|repeticiones|wdh|wiederholungen)?\.?"
)
DOSE = re.compile(
    rf"(?:([0-9]{{1,2}}){TIMES})?{NUMBER}\s*{UNIT}"
    rf"(?:\s*(?:x|×|\*|,|@|at|with|mit|con|a)?\s*{NUMBER}\s*(?:kg|kilos?)|{TIMES}{NUMBER})?",
    re.IGNORECASE,
)
LOAD = re.compile(rf"{NUMBER}\s*(?:kg|kilos?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedDose:
    """As much of a dose as was written."""

    sets: int | None = None
    amount: float | None = None
    load: float | None = None
    """Kilograms."""


def read_dose(text: str) -> TypedDose | None:
    """What was written; None if it is no dose."""
    written = text.strip()
    if found := LOAD.fullmatch(written):
        return TypedDose(load=_number(found[1]))
    found = DOSE.fullmatch(written)
    if found is None:
        return None
    load = found[3] or found[4]
    return TypedDose(
        sets=int(found[1]) if found[1] else None,
        amount=_number(found[2]),
        load=_number(load) if load else None,
    )


def _number(text: str) -> float:
    return float(text.replace(",", "."))
