"""What the offline commands print: summaries and tables in plain text."""

from collections.abc import Sequence

from bot.planfile import PlanFile
from bot.timetable import SessionTime
from bot.words.alerts import sighting_words
from bot.words.doses import dose_words
from bot.words.reasons import because_of
from bot.words.speech import speech_for
from core.movement import Movement
from core.plan import Plan, PlanLine
from core.suggestion import Advice, Suggestion
from core.watching import Alert

ENGLISH = speech_for("en")

SAFETY = (
    "Suggestions are no medical advice. Pain or a warning sign: stop, and get medical help. "
    "Local rules and licensed practice come first."
)


def plan_summary(plan_file: PlanFile, sessions: Sequence[SessionTime]) -> str:
    """What a plan file was understood to mean."""
    plan = plan_file.plan
    dates = ", ".join(ENGLISH.moment(each.starts_at, plan_file.timezone) for each in sessions)
    lines = [
        f"{plan_file.name}: {plan_file.minutes} minutes, {plan_file.timezone}",
        f"Classes: {dates or 'none'}" + (", …" if len(sessions) > 2 else ""),
        f"Effort: target {ENGLISH.number(plan.target)}, ceiling {ENGLISH.number(plan.ceiling)}",
        f"Asked {plan_file.prompt_after} minutes after the end; "
        f"digest {plan_file.digest_before} minutes before the start",
        "",
    ]
    for number, line in enumerate(plan.lines, start=1):
        lines += [
            f"{number}. {line.movement.name}: {dose_words(ENGLISH, line.dose, line.movement)}"
        ]
        lines += [f"   {_ladder_words(line.movement)}", f"   {_limits_words(line, plan)}"]
    return "\n".join(lines)


def _ladder_words(movement: Movement) -> str:
    return " < ".join(f"{each.name} {ENGLISH.number(each.demand)}" for each in movement.ladder)


def _limits_words(line: PlanLine, plan: Plan) -> str:
    movement = line.movement
    limits = f"from {ENGLISH.number(movement.smallest)} to {ENGLISH.number(movement.largest)}"
    steps = f"in steps of {ENGLISH.number(movement.step)}"
    load = (
        f", load in steps of {ENGLISH.number(movement.load_step)} kg" if movement.load_step else ""
    )
    own = (line.target, line.ceiling) != (plan.target, plan.ceiling)
    effort = (
        f"; target {ENGLISH.number(line.target)}, ceiling {ENGLISH.number(line.ceiling)}"
        if own
        else ""
    )
    return f"{limits} {steps}{load}{effort}"


def advice_summary(plan: Plan, advice: Advice, alerts: Sequence[Alert], *, heading: str) -> str:
    """Everything about the next class, for reading in a terminal."""
    parts = [heading]
    for line in plan.lines:
        parts += ["", line.movement.name.upper(), *_option_lines(line, advice), ""]
        parts += _table(_rows(line, advice.suggestions))
    asks = [
        f"  {each.member}: {', '.join(each.movements)}" for each in advice.asks if each.movements
    ]
    parts += ["", "ASK AFTER CLASS", *asks] if asks else []
    parts += ["", "ALERTS", *map(_alert_line, alerts)] if alerts else []
    return "\n".join((*parts, "", SAFETY, ""))


def _option_lines(line: PlanLine, advice: Advice) -> list[str]:
    return [
        f"  {dose_words(ENGLISH, each.dose, line.movement)}: {', '.join(each.members)}"
        for each in advice.options
        if each.movement == line.movement.name
    ]


def _rows(line: PlanLine, suggestions: Sequence[Suggestion]) -> list[tuple[str, ...]]:
    movement = line.movement
    rows: list[tuple[str, ...]] = [("member", "own best", "effort", "change", "or", "because")]
    rows += [
        (
            each.member,
            dose_words(ENGLISH, each.dose, movement),
            f"{each.expected_effort:.1f}",
            each.change,
            dose_words(ENGLISH, each.alternative, movement) if each.alternative else "",
            because_of(ENGLISH, each, movement, each.member),
        )
        for each in suggestions
        if each.movement == movement.name
    ]
    return rows


def _alert_line(alert: Alert) -> str:
    return f"  {alert.member}: {alert.kind} ({alert_reason(alert)})"


def alert_reason(alert: Alert) -> str:
    """The evidence of an alert, in one line."""
    return "; ".join(sighting_words(ENGLISH, each) for each in alert.evidence)


def _table(rows: Sequence[Sequence[str]]) -> list[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  "
        + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
