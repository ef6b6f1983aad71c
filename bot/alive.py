"""Whether a running bot does its work, told by the signs that it leaves in its database."""

from datetime import datetime, timedelta

from bot.storage.health import FileHealth
from bot.words import health as words

LONGEST_SILENCE = timedelta(minutes=3)
"""Three polls, or a dozen turns: after that the process gives up by itself, or it hangs."""


def is_alive(file: FileHealth, now: datetime) -> tuple[bool, str]:
    """Whether it runs, hears and looks at its calendar, and that in words."""
    if not file.in_use:
        return False, words.stopped()
    heard = None if file.last_poll is None else now - file.last_poll
    turned = None if file.last_turn is None else now - file.last_turn
    # ahead of now is no sign of life either: the clock was set back since
    if heard is None or abs(heard) > LONGEST_SILENCE:
        return False, words.silent(heard)
    if turned is None or abs(turned) > LONGEST_SILENCE:
        return False, words.stuck(turned)
    return True, words.alive(heard)
