"""Four small scenes to learn the scale by, made from the movements that a group really does."""

from dataclasses import dataclass
from enum import StrEnum

from core.effort import MAXIMUM, reserve_at
from core.movement import Measure, Movement
from core.plan import Plan

CLOSE_ENOUGH = 1.0
"""Points by which a rating may differ from a scene and still fit. [choice]: one step of a tap."""
COUNTED = (Measure.REPS, Measure.LOAD)
LEFT_AT = 7.0
"""The rating that the scene with something left stands for: the default target."""


class SceneKind(StrEnum):
    """What a scene tells about a bout."""

    EASY = "easy"
    """It went by without effort."""
    SHARE = "share"
    """A hold of which much was left."""
    LEFT = "left"
    """Repetitions of which some were left."""
    NOTHING_LEFT = "nothing left"
    """Not one more, or not one second."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One bout as somebody may have felt it, and the rating that goes with it."""

    kind: SceneKind
    movement: Movement
    done: float = 0.0
    """Seconds or repetitions that were done; 0 where the scene doesn't say."""
    left: float = 0.0
    """Seconds or repetitions that would have been possible besides."""
    rating: float
    """0 to 10."""

    def fits(self, rating: float) -> bool:
        """Whether somebody's rating is as good as ours."""
        return abs(rating - self.rating) <= CLOSE_ENOUGH


def scenes(plan: Plan) -> tuple[Scene, ...]:
    """Four scenes, or fewer where a plan has no hold or nothing that is counted.

    A hold: the share of what would have been possible (Shepherd et al. 2013, Eur J Appl Physiol
    113:905). Repetitions: three left is 7 (Zourdos et al. 2016, J Strength Cond Res 30:267).
    """
    movements = [line.movement for line in plan.lines]
    hold = next((each for each in movements if each.measure is Measure.HOLD), None)
    counted = next((each for each in movements if each.measure in COUNTED), None)
    found = [Scene(kind=SceneKind.EASY, movement=movements[0], rating=2.0)]
    if hold is not None:
        found.append(
            Scene(kind=SceneKind.SHARE, movement=hold, done=30, left=20, rating=MAXIMUM * 30 / 50)
        )
    left = reserve_at(LEFT_AT)
    if counted is not None and left is not None:
        found.append(
            Scene(kind=SceneKind.LEFT, movement=counted, done=8, left=left, rating=LEFT_AT)
        )
    last = counted or hold or movements[-1]
    found.append(Scene(kind=SceneKind.NOTHING_LEFT, movement=last, rating=MAXIMUM))
    return tuple(found)
