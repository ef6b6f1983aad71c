"""What nobody holds any more is looked for while nothing is being done, not amid the taps."""

import gc

YOUNG = (10_000, 10)
"""What is new is looked at after so many more objects; what outlived that, after so many looks."""
NEVER = 1_000_000
EVERY_SECONDS = 600.0
AT_LATEST_SECONDS = 3600.0
"""So long it waits for a moment of rest."""


def only_look_at_what_is_new() -> None:
    """From now on a look at everything, which takes a tenth of a second, is ours to begin."""
    gc.set_threshold(*YOUNG, NEVER)


class Garbage:
    """When everything was last looked at; moments are seconds on a clock that is never set."""

    def __init__(self) -> None:
        self._last: float | None = None

    def look_through(self, moment: float, *, busy: bool) -> None:
        """Look at everything, if it's time; until then the interpreter passes it over."""
        if self._last is None:
            self._last = moment
        since = moment - self._last
        if since < (AT_LATEST_SECONDS if busy else EVERY_SECONDS):
            return
        self._last = moment
        gc.unfreeze()
        gc.collect()
        gc.freeze()
