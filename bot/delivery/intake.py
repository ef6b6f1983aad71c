"""Fetches updates, and acknowledges them only once they are stored."""

import asyncio
import logging
from collections import deque
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from telegram import Bot
from telegram.error import Conflict, NetworkError, TelegramError

from bot.clock import Clock
from bot.delivery.failure import Failure, Verdict, judge
from bot.delivery.hooks import Hooks
from bot.delivery.transport import call
from bot.errors import ChatRefusesUs, NoUpdates, StorageTrouble
from bot.logs import discreet, fields
from bot.storage import floods, inbox, pulse
from bot.storage.database import Database, Transaction
from bot.storage.floods import Allowance
from bot.storage.inbox import INBOX, Incoming

LOG = logging.getLogger(__name__)

# Always sent in full: the chat API remembers the list of the last call that had one.
ALLOWED_UPDATES = ("message", "edited_message", "callback_query", "my_chat_member", "chat_member")
NOT_LOOKED_AT = 0  # the date of a message of which an update says no more than where it is
ANSWER_MARGIN_SECONDS = 10  # how much longer than the poll itself its answer may take
LONGEST_REST_SECONDS = 30
OUTAGE = timedelta(minutes=2)  # the chat API keeps the press of a button for 150 seconds
MOST_CONFLICTS, CONFLICT_WINDOW = 3, timedelta(minutes=10)
MOST_POLLS_MISSED = 3
REST_AFTER_TROUBLE_SECONDS = 5.0


class Intake:
    """The loop that asks for updates. Its only state is the offset of the last answer."""

    def __init__(
        self,
        bot: Bot,
        database: Database,
        clock: Clock,
        hooks: Hooks,
        poll_timeout: int,
        allowance: Allowance,
    ) -> None:
        self._bot = bot
        self._database = database
        self._clock = clock
        self._hooks = hooks
        self._poll_timeout = poll_timeout
        self._allowance = allowance
        self._conflicts: deque[datetime] = deque(maxlen=MOST_CONFLICTS)
        self._failing_since: datetime | None = None
        self._failures = 0

    async def run(self, stop: asyncio.Event) -> None:
        """Poll until told to stop, or until there is no point in going on."""
        offset: int | None = None
        while not stop.is_set():
            try:
                updates = await self._poll(offset)
            except TelegramError as error:
                await self._clock.wait(self._rest_after(error), unless=stop)
                continue
            self._failing_since, self._failures = None, 0
            try:
                await self._store(updates)
            except StorageTrouble:  # they come again, since the offset stays
                await self._clock.wait(REST_AFTER_TROUBLE_SECONDS, unless=stop)
                continue
            offset = next_offset(updates)

    async def _poll(self, offset: int | None) -> list[object]:
        arguments: dict[str, object] = {
            "timeout": self._poll_timeout,
            "allowed_updates": list(ALLOWED_UPDATES),
        }
        if offset is not None:
            arguments["offset"] = offset
        wait = self._poll_timeout + ANSWER_MARGIN_SECONDS
        updates = await call(self._bot, "getUpdates", arguments, read_timeout=wait)
        if not isinstance(updates, list):  # to ask again at once would be to ask without end
            raise NetworkError("the updates are no list")
        return updates

    async def _store(self, updates: list[object]) -> None:
        now = self._clock.now()
        incoming = [made for made in map(as_incoming, updates) if made is not None]
        async with self._database.transaction() as tx:
            last = await pulse.last_beat(tx, pulse.POLL)
            if last is not None and now - last > OUTAGE:
                await self._hooks.on_outage(tx, last, now)
            await pulse.note_beat_at_times(tx, pulse.POLL, now, pulse.POLL_EVERY)
            new = await inbox.receive(tx, incoming, now)
            too_much = await floods.put_away(tx, new, now, self._allowance)
            for update in new:
                if update not in too_much:
                    tx.tell(INBOX, update)
            await self._tell_too_much(tx, too_much, updates, now)
        if too_much:
            LOG.warning("too much from one person", extra=fields(updates=len(too_much)))

    async def _tell_too_much(
        self, tx: Transaction, too_much: Sequence[Incoming], updates: list[object], now: datetime
    ) -> None:
        numbers = {each.update_id for each in too_much}
        senders = [private_sender(each) for each in updates if _update_id(each) in numbers]
        for account, language in dict(filter(None, senders)).items():
            await self._hooks.on_flood(tx, account, language, now)

    def _rest_after(self, error: TelegramError) -> float:
        """Seconds to wait after a failed poll; raises when waiting won't help."""
        now, failure = self._clock.now(), judge(error)
        LOG.warning(
            "asking for updates failed",
            extra=fields(verdict=failure.verdict.name, reason=discreet(failure.reason)),
        )
        if isinstance(error, Conflict):
            self._note_conflict(now, failure)
        elif failure.verdict is Verdict.STOP:
            raise ChatRefusesUs(failure.reason)
        self._failing_since = min(self._failing_since or now, now)  # clocks are set back, too
        self._failures += 1
        period = timedelta(seconds=self._poll_timeout + ANSWER_MARGIN_SECONDS)
        # several tries, since a computer that slept all night has "failed" for hours at once
        if self._failures > MOST_POLLS_MISSED and (
            now - self._failing_since > MOST_POLLS_MISSED * period
        ):
            raise NoUpdates(discreet(failure.reason))
        asked = 0.0 if failure.wait is None else failure.wait.total_seconds()
        return max(asked, min(2.0 ** (self._failures - 1), LONGEST_REST_SECONDS))

    def _note_conflict(self, now: datetime, failure: Failure) -> None:
        """Two processes with one token get the updates in turns: neither may go on like that."""
        self._conflicts.append(now)
        if len(self._conflicts) == MOST_CONFLICTS and (now - self._conflicts[0] <= CONFLICT_WINDOW):
            raise ChatRefusesUs(failure.reason)


def next_offset(updates: list[object]) -> int | None:
    """What acknowledges these updates; None after an empty answer, when there are no older ones.

    The chat API may restart its numbers after a quiet week, so none is kept longer than that.
    """
    numbers = [number for number in map(_update_id, updates) if number is not None]
    return max(numbers) + 1 if numbers else None


def as_incoming(update: object) -> Incoming | None:
    """An update as it is stored, whatever its shape; None if it has no number to know it by."""
    number = _update_id(update)
    if number is None or not isinstance(update, dict):
        return None
    document = inbox.as_document(_without_own_words(update))
    return Incoming(update_id=number, person_key=person_key(update), document=document)


def _without_own_words(update: dict[str, object]) -> dict[str, object]:
    """A press brings our own message back with it; of that, only where it stands is of use."""
    press = update.get("callback_query")
    message = press.get("message") if isinstance(press, dict) else None
    if not isinstance(press, dict) or not isinstance(message, dict):
        return update
    place = {name: message[name] for name in ("message_id", "chat") if name in message}
    return {**update, "callback_query": {**press, "message": {**place, "date": NOT_LOOKED_AT}}}


def person_key(update: Mapping[str, object]) -> str:
    """Whom an update is from: the sender if there is one, else the chat."""
    parts = [part for part in update.values() if isinstance(part, dict)]
    for name in ("from", "chat"):
        for part in parts:
            someone = part.get(name)
            number = someone.get("id") if isinstance(someone, dict) else None
            if isinstance(number, int):
                return f"{name} {number}"
    return "nobody"


def private_sender(update: object) -> tuple[int, str | None] | None:
    """Who wrote or pressed something in our private chat, and the language of their chat.

    None if it was elsewhere, such as in a group, where nobody is to be answered in private.
    """
    parts = update.values() if isinstance(update, dict) else ()
    for part in parts:
        sender = part.get("from") if isinstance(part, dict) else None
        if not isinstance(sender, dict) or not isinstance(sender.get("id"), int):
            continue
        shown = part.get("message", part)
        chat = shown.get("chat") if isinstance(shown, dict) else None
        if isinstance(chat, dict) and chat.get("id") == sender["id"]:
            language = sender.get("language_code")
            return sender["id"], language if isinstance(language, str) else None
    return None


def _update_id(update: object) -> int | None:
    number = update.get("update_id") if isinstance(update, dict) else None
    return number if isinstance(number, int) and 0 <= number < 2**63 else None
