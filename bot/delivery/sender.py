"""The outbox loop: sends what is due, in order, and knows how sure each result is."""

import asyncio
import logging
from dataclasses import dataclass
from datetime import datetime, timedelta

from telegram import Bot, InputFile
from telegram.error import TelegramError

from bot.clock import Clock
from bot.delivery.failure import Failure, Verdict, judge
from bot.delivery.hooks import Hooks
from bot.delivery.pacing import GROUP_WINDOW, Pacing
from bot.delivery.settling import settle
from bot.delivery.transport import call
from bot.errors import ChatRefusesUs, StorageTrouble
from bot.logs import discreet, fields
from bot.storage import outcomes, outgoing
from bot.storage.database import Database, Listener, Transaction
from bot.storage.outbox import OUTBOX, SETTLED, Letter, is_change
from bot.storage.outgoing import Outgoing
from bot.tasks import Tasks

LOG = logging.getLogger(__name__)

MOST_AT_ONCE = 8
LONGEST_REST = timedelta(seconds=15)  # clocks are set and computers sleep, so look again anyway
REST_AFTER_TROUBLE = timedelta(seconds=5)


@dataclass(frozen=True, slots=True)
class _Flight:
    """A letter in the air."""

    chat: int
    task: asyncio.Task[None]


class Sender:
    """Each turn asks the database what can go now. Only the pacing is remembered.

    A change that comes in while nothing waits needn't wait for a turn: it goes as soon as it is
    committed.
    """

    def __init__(self, bot: Bot, database: Database, clock: Clock, hooks: Hooks) -> None:
        self._bot = bot
        self._database = database
        self._clock = clock
        self._hooks = hooks
        self._pacing = Pacing()
        self._flying: dict[str, _Flight] = {}
        self._all_fly = False
        """Whether the last look saw nothing that waits; what came later has woken us."""
        self._messages = False
        """Whether the last look saw new messages that could go, and not only changes."""
        self._woken = database.woken(OUTBOX)
        self._stop = asyncio.Event()
        self._tasks: Tasks | None = None
        database.listen(OUTBOX, Listener(self._go_at_once, self._can_go_at_once))

    @property
    def busy(self) -> bool:
        """Whether something is in the air."""
        return bool(self._flying)

    async def run(self, stop: asyncio.Event, tasks: Tasks) -> None:
        """Send until told to stop (and woken), then wait for what is in the air."""
        self._stop, self._tasks, remembered = stop, tasks, False
        while not stop.is_set():
            self._woken.clear()
            self._all_fly = False
            try:
                if not remembered:
                    await self._remember()
                    remembered = True
                rest = await self._turn()
            except Exception:
                LOG.exception("a turn of the outbox failed")
                rest = REST_AFTER_TROUBLE
            await self._clock.wait(rest.total_seconds(), unless=self._woken)
        flights = [each.task for each in self._flying.values()]
        await asyncio.gather(*flights, return_exceptions=True)

    async def _remember(self) -> None:
        """The limits count what an earlier run has just sent, too."""
        async with self._database.transaction(patient=True) as tx:
            since = self._clock.now() - GROUP_WINDOW
            for chat, moment in await outgoing.recently_tried(tx, since):
                self._pacing.note(chat, moment)
                self._pacing.landed(moment)

    async def _turn(self) -> timedelta:
        """Start what can be sent now; returns how long there is nothing more to do."""
        careful = self._messages
        rest = await self._take_off(careful=careful)
        if self._messages and not careful:
            rest = await self._take_off(careful=True)
        return rest

    async def _take_off(self, *, careful: bool) -> timedelta:
        """Start what can be sent, new messages only if it is `careful`.

        Before one of those goes, it is on the disk that it does: lest a power cut makes us forget
        it. A change that is forgotten is made once more.
        """
        now, letters = self._clock.now(), list[Outgoing]()
        try:
            async with self._database.transaction(patient=True, lasting=careful) as tx:
                await self._doubt(tx, now)
                rest = await self._claim(tx, letters, careful=careful)
                moment = await outgoing.next_moment(tx, now)
                flying = len(self._flying) + len(letters)
                all_fly = moment is None and await outgoing.count_open(tx) == flying
        except BaseException:
            for _ in letters:  # they stay where they were, and won't fly
                self._pacing.landed(self._clock.now())
            raise
        for letter in letters:
            self._fly(letter)
        self._all_fly = all_fly
        return rest if moment is None else min(rest, moment - now)

    async def _doubt(self, tx: Transaction, now: datetime) -> None:
        """What an earlier run was sending, or what nobody was told of; see `Database.listen`."""
        doubtful = await outcomes.recover(tx, self._flying, now)
        if doubtful:
            LOG.warning("letters are in doubt", extra=fields(letters=doubtful))

    async def _claim(self, tx: Transaction, letters: list[Outgoing], *, careful: bool) -> timedelta:
        """Mark as being sent whatever the pacing allows; the call itself comes after the commit."""
        now, rest, self._messages = self._clock.now(), LONGEST_REST, False
        for head in await outgoing.heads(tx, now):
            if len(self._flying) + len(letters) == MOST_AT_ONCE:
                break  # the first to land wakes us
            wait = self._pacing.wait(head.chat, now)
            if wait:
                rest = min(rest, wait)
                continue
            if not head.harmless:
                self._messages = True
                if not careful:
                    break  # those behind it don't overtake it
            letter = await outgoing.claim(tx, head.id, now)
            if letter is not None:
                self._pacing.note(head.chat, now)
                letters.append(letter)
        return rest

    def _can_go_at_once(self, letter: Letter) -> bool:
        """Whether it would be the only one to go, and nothing else of its chat is in the air."""
        alone = self._all_fly and not self._woken.is_set()
        free = all(each.chat != letter.chat for each in self._flying.values())
        room = len(self._flying) < MOST_AT_ONCE
        return alone and free and room and not self._pacing.wait(letter.chat, self._clock.now())

    def _go_at_once(self, letter: Letter) -> None:
        self._pacing.note(letter.chat, self._clock.now())
        self._fly(outgoing.at_once(letter))

    def _fly(self, letter: Outgoing) -> None:
        assert self._tasks is not None, "nothing is sent before somebody is there to do it"
        task = self._tasks.start(self._send(letter), name=f"send {letter.id}")
        self._flying[letter.id] = _Flight(letter.chat, task)

    async def _send(self, letter: Outgoing) -> None:
        try:
            try:
                result = await self._call(letter)
            finally:
                self._pacing.landed(self._clock.now())
            await self._settle(letter, result)
        finally:
            del self._flying[letter.id]
            self._database.woken(SETTLED).set()
        if isinstance(result, Failure) and result.verdict is not Verdict.UNCHANGED:
            LOG.warning(
                "a letter was not sent",
                extra=fields(
                    letter=letter.id, verdict=result.verdict.name, reason=discreet(result.reason)
                ),
            )
            if result.verdict is Verdict.STOP:
                raise ChatRefusesUs(result.reason)

    async def _settle(self, letter: Outgoing, result: object) -> None:
        """Write down what became of it, however long that takes: it can't be asked for again."""
        # a message is known of for good; a change that is forgotten is made once more
        lasting = not is_change(letter.method)
        while True:
            try:
                async with self._database.transaction(patient=True, lasting=lasting) as tx:
                    await settle(tx, letter, result, self._clock.now(), self._hooks)
                return
            except StorageTrouble:
                if self._stop.is_set():
                    raise  # it stays as being sent, and so is in doubt at the next start
                await self._clock.wait(REST_AFTER_TROUBLE.total_seconds(), unless=self._stop)

    async def _call(self, letter: Outgoing) -> object:
        """What the chat API returned, or a Failure."""
        arguments = {**letter.arguments, "chat_id": letter.chat}
        if letter.file is not None:
            file = letter.file
            arguments[file.field] = InputFile(file.content, filename=file.name)
        try:
            return await call(self._bot, letter.method, arguments)
        except TelegramError as error:
            return judge(error)
