"""Notices when the clock was set forward or back, or the computer slept."""

from datetime import datetime, timedelta

UNSEEN = timedelta(seconds=30)
"""Less than that is what clocks do when they are put right, and a busy computer."""
NONE = timedelta(0)


class Steps:
    """Compares the clock with seconds that only ever run on."""

    def __init__(self) -> None:
        self._last: tuple[datetime, float] | None = None

    def seen(self, now: datetime, running: float) -> timedelta:
        """How far the clock has stepped since the last look; nothing if it has just gone on."""
        last, self._last = self._last, (now, running)
        if last is None:
            return NONE
        step = (now - last[0]) - timedelta(seconds=running - last[1])
        return step if abs(step) >= UNSEEN else NONE
