"""What nobody needs any more is let go of: while nothing is being done, or at the start."""

import gc
from contextlib import suppress
from types import FunctionType

YOUNG = (10_000, 10)
"""What is new is looked at after so many more objects; what outlived that, after so many looks."""
NEVER = 1_000_000
EVERY_SECONDS = 600.0
AT_LATEST_SECONDS = 3600.0
"""So long it waits for a moment of rest."""


def only_look_at_what_is_new() -> None:
    """From now on a look at everything, which takes a tenth of a second, is ours to begin."""
    gc.set_threshold(*YOUNG, NEVER)


def let_go_of_documentation() -> None:
    """Nobody reads in a running bot what its libraries are documented with: it's megabytes.

    As with `python -OO`, but for what is imported by now, and without touching assertions.
    """
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and each.__doc__ is not None:
            code, written = each.__code__, each.__doc__
            each.__doc__ = None
            if code.co_consts[:1] == (written,):
                each.__code__ = code.replace(co_consts=(None, *code.co_consts[1:]))
        elif isinstance(each, type) and isinstance(each.__dict__.get("__doc__"), str):
            with suppress(AttributeError, TypeError):  # those made in C keep theirs
                each.__doc__ = None


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
