"""Cards to be drawn in tests."""

from bot.pictures.cards import Against, ProgressCard, RatingMark, StandingRow

LONG = "Einbeinige Kniebeuge mit gestrecktem Bein, sehr langsam abwärts"


def mark(effort: float = 7, day: str = "Thu, 3 Sep", *, after_break: bool = False) -> RatingMark:
    """A rated class."""
    against = Against.ABOVE if effort > 8 else Against.BELOW if effort < 6 else Against.WITHIN
    return RatingMark(
        day=day, effort=effort, number=f"{effort:g}", against=against, after_break=after_break
    )


def row(name: str = "Side plank", **other: object) -> StandingRow:
    """A movement with three steps."""
    values: dict[str, object] = {
        "name": name,
        "variation": "feet stacked",
        "amounts": "about 38 s (31 to 46)",
        "steps": (("knees bent", 3.0), ("feet stacked", 3.8), ("top leg raised", 4.2)),
        "low": 3.4,
        "middle": 3.6,
        "high": 3.8,
        "began": 3.3,
    }
    return StandingRow(**(values | other))  # type: ignore[arg-type]


def progress_card(**other: object) -> ProgressCard:
    """A member's card with three classes and one movement."""
    values: dict[str, object] = {
        "title": "Your progress",
        "group": "Harbour Hall strength",
        "ratings_title": "How hard your classes were",
        "ratings": (mark(5), mark(7), mark(9, "Thu, 17 Sep")),
        "scale": tuple((float(point), f"{point}") for point in range(0, 11, 2)),
        "low": 6.0,
        "high": 8.0,
        "range_label": "aimed at: 6 to 8",
        "against_labels": (
            (Against.WITHIN, "as planned"),
            (Against.ABOVE, "harder"),
            (Against.BELOW, "easier"),
        ),
        "standings_title": "What you can do",
        "standings": (row(),),
        "now_label": "now, and how sure that is",
        "began_label": "when you began",
        "step_label": "where a step feels like 7",
        "note": None,
    }
    return ProgressCard(**(values | other))  # type: ignore[arg-type]
