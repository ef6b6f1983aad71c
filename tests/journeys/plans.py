"""Plan files that the stories use."""

MOVEMENTS = """
[[movement]]
name = "Side plank"
measure = "hold"
standard = "feet stacked"
plan = { variation = "knees bent", amount = 30, sets = 2 }
range = [10, 60]
step = 5
[[movement.variation]]
name = "knees bent"
demand = 0.6
[[movement.variation]]
name = "feet stacked"
demand = 1.0

[[movement]]
name = "Push-up"
measure = "reps"
standard = "on the floor"
plan = { variation = "on the knees", amount = 10, sets = 2 }
range = [4, 20]
step = 1
[[movement.variation]]
name = "on the knees"
demand = 0.81
[[movement.variation]]
name = "on the floor"
demand = 1.0

[[movement]]
name = "Squat with a weight"
measure = "load"
standard = "to parallel"
plan = { variation = "to parallel", amount = 8, load = 12, sets = 2 }
range = [5, 12]
step = 1
load_step = 2
[[movement.variation]]
name = "to a chair"
demand = 0.8
[[movement.variation]]
name = "to parallel"
demand = 1.0
"""


def plan_text(
    name: str = "Harbour Hall strength",
    *,
    starts: str = "2026-09-03T18:30:00",
    rrule: str = "FREQ=WEEKLY;BYDAY=TH",
    timezone: str = "Europe/Lisbon",
    minutes: int = 50,
    more: str = "",
    movements: str = MOVEMENTS,
) -> str:
    """A plan file; by default Thursdays at half past six in the evening."""
    return f"""
[group]
name = {name!r}
timezone = "{timezone}"
starts = {starts}
rrule = "{rrule}"
minutes = {minutes}
{more}
{movements}"""
