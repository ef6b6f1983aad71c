"""How much the API accepts, and the pacing that answers 429."""

import math
from collections import defaultdict, deque
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from demo_script.stand_in.refusals import too_many

MEGABYTE = 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The documented numbers; a test may tighten or loosen any of them."""

    text_units: int = 4096  # counted after the styles are parsed
    caption_units: int = 1024
    entities: int = 100
    callback_data_bytes: int = 64
    callback_answer_characters: int = 200
    buttons_in_a_row: int = 8
    buttons: int = 100
    commands: int = 100
    download_bytes: int = 20 * MEGABYTE
    upload_bytes: int = 50 * MEGABYTE
    photo_bytes: int = 10 * MEGABYTE

    messages_per_second: int = 30  # over all chats
    private_per_second: float = 1.0  # sustained, in one private chat
    private_burst: int = 3  # short bursts go through
    group_per_minute: int = 20  # in one group

    press_lives: timedelta = timedelta(seconds=150)  # then the app has stopped waiting
    update_lives: timedelta = timedelta(hours=24)  # unfetched updates are dropped after that
    deletable: timedelta = timedelta(hours=48)  # edits have no such limit
    quiet_restart: timedelta = timedelta(days=7)  # then update ids start anywhere
    conflict_pause_seconds: float = 3.0  # real: a second 409 is delayed, so that pollers slow down


@dataclass(slots=True)
class _Allowance:
    """How many messages a private chat still takes at this moment."""

    left: float
    at: datetime


@dataclass(slots=True)
class Pacer:
    """Counts what goes into each chat, by the stand-in's clock, and refuses what is too fast."""

    now: Callable[[], datetime]
    limits: Limits
    violations: int = 0
    """How many requests were answered 429 for being too fast."""
    _all: deque[datetime] = field(default_factory=deque)
    _groups: dict[int, deque[datetime]] = field(default_factory=lambda: defaultdict(deque))
    _private: dict[int, _Allowance] = field(default_factory=dict)

    def admit(self, chat_id: int) -> None:
        """Count one message or edit in this chat, or refuse it with the seconds to wait."""
        now = self.now()
        wait = max(
            _window_wait(self._all, now, timedelta(seconds=1), self.limits.messages_per_second),
            self._chat_wait(chat_id, now),
        )
        if wait > 0:
            self.violations += 1
            raise too_many(math.ceil(wait))
        self._all.append(now)
        if chat_id < 0:
            self._groups[chat_id].append(now)
        else:
            self._private[chat_id].left -= 1

    def _chat_wait(self, chat_id: int, now: datetime) -> float:
        if chat_id < 0:  # groups have negative ids
            minute = timedelta(minutes=1)
            return _window_wait(self._groups[chat_id], now, minute, self.limits.group_per_minute)
        burst, rate = self.limits.private_burst, self.limits.private_per_second
        allowance = self._private.setdefault(chat_id, _Allowance(burst, now))
        passed = max(0.0, (now - allowance.at).total_seconds())
        allowance.left = min(burst, allowance.left + passed * rate)
        allowance.at = now
        return 0.0 if allowance.left >= 1 - 1e-9 else (1 - allowance.left) / rate


def _window_wait(sent: deque[datetime], now: datetime, span: timedelta, most: int) -> float:
    """Seconds until one more fits into the sliding window; 0 if it fits now."""
    while sent and sent[0] <= now - span:
        sent.popleft()
    return 0.0 if len(sent) < most else (sent[0] + span - now).total_seconds()
