"""How fast may be sent: below what the chat API publishes as its limits."""

from collections import deque
from datetime import datetime, timedelta

# The Bot API's published limits: about 30 messages a second over all, 1 a second in one chat, and
# 20 a minute in one group ("Bots FAQ", Telegram, read 2025). We stay below.
OVERALL, OVERALL_WINDOW = 29, timedelta(seconds=1)
GROUP, GROUP_WINDOW = 18, timedelta(minutes=1)
CHAT_INTERVAL = timedelta(seconds=1)
CHAT_BURST = 2  # a question and its picture may go out together
MOST_CHATS = 1000
"""So many are remembered before those that are at rest are forgotten."""

NO_WAIT = timedelta(0)


class Pacing:
    """Remembers when was sent what, no longer than it matters. Time is always passed in.

    Nobody knows when a letter that is in the air arrives, only that it does so before its answer.
    So over all it counts from its claim until a second after it has landed: however a slow line or
    a busy computer bunches them, no second has more arrivals than are allowed.
    """

    def __init__(self) -> None:
        self._flying = 0
        self._landed: deque[datetime] = deque(maxlen=OVERALL)
        self._groups: dict[int, deque[datetime]] = {}
        self._free_at: dict[int, datetime] = {}
        """Per chat, when it would be at rest if nothing more were sent."""
        self._latest: datetime | None = None

    def wait(self, chat: int, now: datetime) -> timedelta:
        """How long to wait before sending to this chat; zero if it may be sent now."""
        self._follow(now)
        burst = (CHAT_BURST - 1) * CHAT_INTERVAL
        earliest = max(
            self._free_over_all(now),
            self._free_at.get(chat, now) - burst,
            _free(self._groups.get(chat, deque()), GROUP, GROUP_WINDOW, now),
        )
        return max(earliest - now, NO_WAIT)

    def note(self, chat: int, now: datetime) -> None:
        """Something is being sent to this chat now; `landed` is to follow."""
        self._follow(now)
        self._flying += 1
        self._free_at[chat] = max(self._free_at.get(chat, now), now) + CHAT_INTERVAL
        if chat < 0:  # groups have negative ids
            self._groups.setdefault(chat, deque(maxlen=GROUP)).append(now)

    def landed(self, now: datetime) -> None:
        """Something that was noted has been answered, or won't be."""
        self._follow(now)
        self._flying -= 1
        self._landed.append(now)

    def _free_over_all(self, now: datetime) -> datetime:
        room = OVERALL - self._flying
        if room <= 0:
            return now + OVERALL_WINDOW  # the next to land will say more
        return self._landed[-room] + OVERALL_WINDOW if len(self._landed) >= room else now

    def _follow(self, now: datetime) -> None:
        """When the clock is set back, what was sent an hour ahead was sent just now."""
        back = NO_WAIT if self._latest is None else self._latest - now
        self._latest = now
        if back > NO_WAIT:
            for sent in (self._landed, *self._groups.values()):
                moved = [moment - back for moment in sent]
                sent.clear()
                sent.extend(moved)
            self._free_at = {chat: moment - back for chat, moment in self._free_at.items()}
        if len(self._free_at) > MOST_CHATS:
            self._forget_rested(now)

    def _forget_rested(self, now: datetime) -> None:
        """Chats that have been at rest long enough are like those that never got anything."""
        self._free_at = {chat: free for chat, free in self._free_at.items() if free > now}
        self._groups = {
            chat: sent for chat, sent in self._groups.items() if sent[-1] > now - GROUP_WINDOW
        }


def _free(sent: deque[datetime], most: int, window: timedelta, now: datetime) -> datetime:
    """When the window has room for one more; `sent` holds at most `most` moments."""
    return sent[0] + window if len(sent) == most else now
