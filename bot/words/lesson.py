"""The scale, learned in four taps, and one's own ratings beside what was left."""

from collections.abc import Mapping

from bot.buttons import LessonButton
from bot.words.message import Key, Message, plain
from bot.words.scale import POINTS, heart_rate_line
from bot.words.speech import Html, Speech, bold, later, lines
from core.effort import Scale, from_6_20
from core.lesson import Scene, SceneKind
from core.selfcheck import Direction, Fit, SelfCheck

KEYS_IN_A_ROW = 6
AIM = 7.0
"""The default target."""
TOLD: Mapping[SceneKind, str] = {
    SceneKind.EASY: later(
        "{movement}: you could have chatted all the way and hardly noticed the work. "
        "Which number is that?"
    ),
    SceneKind.SHARE: later(
        "{movement}: you held {done} seconds and could have held {left} more. Which number is that?"
    ),
    SceneKind.LEFT: later(
        "{movement}: you did {done} and could have done {left} more. Which number is that?"
    ),
    SceneKind.NOTHING_LEFT: later(
        "{movement}: not one more would have gone, however much you wanted it. "
        "Which number is that?"
    ),
}
EXPLAINED: Mapping[SceneKind, str] = {
    SceneKind.EASY: later("That is about {rating}: easy, and you could go on for long."),
    SceneKind.SHARE: later(
        "That is about {rating}: what you did, as a share of what was possible."
    ),
    SceneKind.LEFT: later("That is about {rating}: {left} left, very hard but in control."),
    SceneKind.NOTHING_LEFT: later(
        "That is {rating}, and it should stay rare: the aim is mostly around {aim}."
    ),
}
FITS: Mapping[Fit, str] = {
    Fit.CLOSE: later("Your ratings and what you have left go together well."),
    Fit.HIGHER: later(
        "You often rate higher than what you have left says. Before you tap, ask yourself: how "
        "many more would have gone?"
    ),
    Fit.LOWER: later(
        "You often rate lower than what you have left says. Before you tap, ask yourself: how "
        "many more would really have gone?"
    ),
    Fit.OPEN: later(
        "Your ratings and what you have left don't move together yet. That is usual; it settles "
        "with practice."
    ),
}
DIRECTIONS: Mapping[Direction, str] = {
    Direction.CLOSER: later("The two have come closer together lately."),
    Direction.APART: later("The two have moved apart a little lately."),
}
NO_GROUP = plain(later("You are not in a group yet, so there is nothing to practise on."))


def scale_message(speech: Speech, group: str, check: SelfCheck | None) -> Message:
    """What the numbers mean, how somebody's own ratings fit, and the way into the lesson."""
    return Message(
        text=lines(
            speech.text("What the numbers mean:"),
            *(f"{speech.rating(point)} {speech.label(word)}" for point, word in POINTS.items()),
            speech.text("What has no word lies in between."),
            heart_rate_line(speech) if speech.heart_rate else None,
            "",
            *_coaching(speech, check),
        ),
        rows=((Key(speech.label("Practise in four taps"), LessonButton(group, 0)),),),
    )


def refresher_message(speech: Speech, group: str, check: SelfCheck) -> Message:
    """Ratings and reserve have drifted apart: a kind word, and the way into the lesson."""
    return Message(
        text=lines(*_coaching(speech, check)),
        rows=((Key(speech.label("Practise in four taps"), LessonButton(group, 0)),),),
    )


def _coaching(speech: Speech, check: SelfCheck | None) -> list[Html]:
    if check is None:
        return [
            speech.text(
                "Once you have rated a few movements and said what was left, I can tell you here "
                "how the two go together."
            )
        ]
    said = [speech.text(FITS[check.fit])]
    direction = None if check.direction is None else DIRECTIONS.get(check.direction)
    if direction is not None:
        said.append(speech.text(direction))
    count = len(check.comparisons)
    said.append(
        speech.texts("That is from {count} answer.", "That is from {count} answers.", count)
    )
    return said


def scene_message(speech: Speech, group: str, scene: Scene, place: int, of_all: int) -> Message:
    """One scene, and the scale under it."""
    keys = [Key(label, LessonButton(group, place, rating)) for label, rating in _keys(speech)]
    starts = range(0, len(keys), KEYS_IN_A_ROW)
    return Message(
        text=lines(
            speech.text("{place} of {all}", place=place + 1, all=of_all),
            speech.text(
                TOLD[scene.kind],
                movement=bold(scene.movement.name),
                done=speech.number(scene.done),
                left=speech.number(scene.left),
            ),
        ),
        rows=tuple(tuple(keys[start : start + KEYS_IN_A_ROW]) for start in starts),
    )


def scene_answered(
    speech: Speech, group: str, scene: Scene, place: int, rating: float, of_all: int
) -> Message:
    """What most people would say, whatever was tapped; and the next scene, or the end."""
    fits = scene.fits(rating)
    said = (
        later("{rating}: yes.")
        if fits
        else later("{rating}? Most people would tap another number.")
    )
    last = place + 1 >= of_all
    onwards = speech.label("That was it") if last else speech.label("Next")
    return Message(
        text=lines(
            speech.text(said, rating=speech.rating(rating)),
            speech.text(
                EXPLAINED[scene.kind],
                rating=speech.rating(scene.rating),
                left=speech.number(scene.left),
                aim=speech.rating(AIM),
            ),
        ),
        rows=((Key(onwards, LessonButton(group, place + 1)),),),
    )


def _keys(speech: Speech) -> list[tuple[str, int]]:
    """Labels on the person's own scale, with the rating on ours in tenths."""
    if speech.scale is Scale.TWENTY:
        return [(str(rating), round(10 * from_6_20(rating))) for rating in range(6, 21)]
    return [(str(rating), 10 * rating) for rating in range(11)]
