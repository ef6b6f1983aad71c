"""What one member does next class, movement by movement, and why."""

from collections.abc import Iterable

from bot.buttons import WellAgainButton
from bot.words.doses import dose_words
from bot.words.message import Key, Message, bold, html
from bot.words.reasons import because
from bot.words.safety import SHORT_CAUTION
from core.plan import Plan
from core.suggestion import Suggestion


def variant_message(
    *,
    group: str,
    when: str,
    plan: Plan,
    told: Iterable[Suggestion],
    symptoms: Iterable[tuple[str, str | None]] = (),
) -> Message:
    """The next class for one member; `symptoms` are the ones they may say are gone, by id."""
    by_movement = {each.movement: each for each in told}
    lines = [f"{bold(group)} · {html(when)}"]
    for line in plan.lines:
        suggestion = by_movement.get(line.movement.name)
        if suggestion is not None:
            lines += ["", *_movement(suggestion, plan)]
    lines += ["", f"<i>{SHORT_CAUTION}</i>"]
    rows = [
        (Key(_well_again(movement), WellAgainButton(symptom)),) for symptom, movement in symptoms
    ]
    return Message(text="\n".join(lines), rows=tuple(rows))


def _movement(suggestion: Suggestion, plan: Plan) -> list[str]:
    line = plan.line(suggestion.movement)
    if line is None:
        return []
    same = suggestion.dose == line.dose
    lines = [
        f"{bold(suggestion.movement)}: {html(dose_words(suggestion.dose, line.movement))}"
        + (" (same as everyone)" if same else ""),
        html(because(suggestion, line.movement)),
    ]
    if suggestion.alternative is not None:
        other = dose_words(suggestion.alternative, line.movement)
        lines.append(f"<i>Or: {html(other)}</i>")
    return lines


def _well_again(movement: str | None) -> str:
    return f"{movement}: it's fine again" if movement else "It's fine again"


NO_CLASS = Message(text="No class is planned at the moment.", personal=False)
NOT_A_MEMBER = Message(
    text="You are not in a group yet. Please use the link that your instructor gave you.",
    personal=False,
)
