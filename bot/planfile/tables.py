"""The tables of a plan file as they may be written, checked field by field."""

from datetime import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from bot.timetable import is_zone
from core.names import readable
from core.rules import CEILING, TARGET

DEFAULT_PROMPT_AFTER = 10  # minutes after the end
DEFAULT_DIGEST_BEFORE = 60  # minutes before the start
MOST_VARIATIONS = 8


def _readable(name: str) -> str:
    if not readable(name):
        raise ValueError
    return name


def _zone(name: str) -> str:
    if not is_zone(name):
        raise ValueError
    return name


def _wall(moment: datetime) -> datetime:
    if moment.tzinfo is not None or not 2000 <= moment.year < 2100:
        raise ValueError
    return moment


class Table(BaseModel):
    """Strict: no other keys, no numbers in quotes. A description says what was expected."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


Name = Annotated[
    str,
    AfterValidator(_readable),
    Field(description="a name in quotes, 1 to 64 visible characters on one line"),
]
Amount = Annotated[float, Field(gt=0, le=10_000)]
Effort = Annotated[
    float, Field(ge=1, le=10, description="an effort from 1 to 10, the target below the ceiling")
]
LoadStep = Annotated[float | None, Field(gt=0, le=100, description="kilograms, such as 2.5")]


class GroupTable(Table):
    """`[group]`."""

    name: Name
    timezone: Annotated[
        str, AfterValidator(_zone), Field(description="an IANA time zone such as Europe/Lisbon")
    ]
    starts: Annotated[
        datetime,
        AfterValidator(_wall),
        Field(description="a local date and time without offset, such as 2026-09-03T18:30:00"),
    ]
    rrule: Annotated[
        str, Field(description='a rule such as "FREQ=WEEKLY;BYDAY=TH"', max_length=200)
    ]
    minutes: Annotated[
        int, Field(ge=5, le=600, description="a whole number of minutes from 5 to 600")
    ]
    target: Effort = TARGET
    ceiling: Effort = CEILING
    prompt_after: Annotated[
        int, Field(ge=0, le=1440, description="minutes after the end, a whole number up to 1440")
    ] = DEFAULT_PROMPT_AFTER
    digest_before: Annotated[
        int, Field(ge=0, le=2880, description="minutes before the start, a whole number up to 2880")
    ] = DEFAULT_DIGEST_BEFORE


class VariationTable(Table):
    """`[[movement.variation]]`."""

    name: Name
    demand: Annotated[
        float,
        Field(gt=0, le=10, description="a number above 0, the standard variation having 1.0"),
    ]


class DoseTable(Table):
    """`plan = { … }`."""

    variation: Name
    amount: Annotated[Amount, Field(description="a number above 0: seconds, repetitions, minutes")]
    load: Annotated[
        float | None, Field(gt=0, le=1000, description="kilograms, a number above 0")
    ] = None
    sets: Annotated[int, Field(ge=1, le=20, description="a whole number from 1 to 20")] = 1


class MovementTable(Table):
    """`[[movement]]`, after a library ladder has been filled in."""

    name: Name
    measure: Annotated[
        Literal["hold", "reps", "load", "minutes"],
        Field(description='"hold", "reps", "load" or "minutes"'),
    ]
    standard: Name
    plan: Annotated[
        DoseTable,
        Field(description='a dose such as { variation = "knees bent", amount = 30, sets = 2 }'),
    ]
    range: Annotated[
        list[Amount],
        Field(min_length=2, max_length=2, description="two numbers above 0, the smaller first"),
    ]
    step: Annotated[Amount, Field(description="a number above 0")]
    load_step: LoadStep = None
    target: Effort | None = None
    ceiling: Effort | None = None
    variation: Annotated[
        list[VariationTable],
        Field(
            min_length=1,
            max_length=MOST_VARIATIONS,
            description=f"1 to {MOST_VARIATIONS} [[movement.variation]] tables, or a library",
        ),
    ]
