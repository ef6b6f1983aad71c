"""Short answers to a press, which only the presser sees."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from bot.words.speech import later


@dataclass(frozen=True, slots=True)
class Toast:
    """A sentence of at most 200 characters in every language."""

    sentence: str
    stays: bool = False
    """Whether it stays on screen until it is closed."""
    facts: Mapping[str, str] = field(default_factory=dict)
    """What stands in the sentence's braces."""


NOTED = Toast(later("Noted."))
NOT_YOURS = Toast(later("This button doesn't work for you."))
CLOSED = Toast(later("This question is closed."))
OUTDATED = Toast(later("This button is no longer in use."))
ON_SCREEN = Toast(later("That is what you see already."))
TAKEN_BACK = Toast(later("Taken back."))
ON_ITS_WAY = Toast(later("On its way."))
SEEN = Toast(later("Marked as seen."))
ALREADY_SEEN = Toast(later("That was already marked as seen."))
CLEARED = Toast(later("Noted. It takes both of you: the member and the instructor."))
GET_HELP = Toast(
    later("Stop, and get medical help. If in doubt, call your local emergency number."), stays=True
)
SCALE = Toast(
    later(
        "0 nothing · 3 moderate · 5 hard · 7 very hard but in control · 9 almost nothing left · "
        "10 could not have done one more"
    ),
    stays=True,
)
SCALE_6_20 = Toast(
    later(
        "6 nothing · 12 moderate · 15 hard · 17 very hard but in control · 19 almost nothing "
        "left · 20 could not have done one more"
    ),
    stays=True,
)
