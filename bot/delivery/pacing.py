"""How fast may be sent: below what the chat API publishes as its limits."""

from collections import deque
from datetime import datetime, timedelta

# The Bot API's published limits: about 30 messages a second over all, 1 a second in one chat, and
# 20 a minute in one group ("Bots FAQ", Telegram, read 2025). We stay below.
OVERALL, OVERALL_WINDOW = 25, timedelta(seconds=1)
GROUP, GROUP_WINDOW = 18, timedelta(minutes=1)
CHAT_INTERVAL = timedelta(seconds=1)
CHAT_BURST = 2  # a question and its picture may go out together

NO_WAIT = timedelta(0)


class Pacing:
    """Remembers when was sent what, no longer than it matters. Time is always passed in."""

    def __init__(self) -> None:
        self._overall: deque[datetime] = deque(maxlen=OVERALL)
        self._groups: dict[int, deque[datetime]] = {}
        self._free_at: dict[int, datetime] = {}
        """Per chat, when it would be at rest if nothing more were sent."""
        self._latest: datetime | None = None

    def wait(self, chat: int, now: datetime) -> timedelta:
        """How long to wait before sending to this chat; zero if it may be sent now."""
        self._follow(now)
        burst = (CHAT_BURST - 1) * CHAT_INTERVAL
        earliest = max(
            _free(self._overall, OVERALL, OVERALL_WINDOW, now),
            self._free_at.get(chat, now) - burst,
            _free(self._groups.get(chat, deque()), GROUP, GROUP_WINDOW, now),
        )
        return max(earliest - now, NO_WAIT)

    def note(self, chat: int, now: datetime) -> None:
        """Something is being sent to this chat now."""
        self._follow(now)
        self._overall.append(now)
        self._free_at[chat] = max(self._free_at.get(chat, now), now) + CHAT_INTERVAL
        if chat < 0:  # groups have negative ids
            self._groups.setdefault(chat, deque(maxlen=GROUP)).append(now)

    def _follow(self, now: datetime) -> None:
        """When the clock is set back, what was sent an hour ahead was sent just now."""
        back = NO_WAIT if self._latest is None else self._latest - now
        self._latest = now
        if back <= NO_WAIT:
            return
        for sent in (self._overall, *self._groups.values()):
            moved = [moment - back for moment in sent]
            sent.clear()
            sent.extend(moved)
        self._free_at = {chat: moment - back for chat, moment in self._free_at.items()}


def _free(sent: deque[datetime], most: int, window: timedelta, now: datetime) -> datetime:
    """When the window has room for one more; `sent` holds at most `most` moments."""
    return sent[0] + window if len(sent) == most else now
