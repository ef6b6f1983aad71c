"""What somebody hears who sends far more than anybody could mean."""

from bot.words.message import plain
from bot.words.speech import later

TOO_MUCH = plain(
    later(
        "That was a lot at once. I have put the last of it away unread; nothing that you said "
        "before is lost. Please go on in a few minutes."
    )
)
