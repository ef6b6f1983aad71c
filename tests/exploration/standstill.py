"""The bot's handlers and the chat service together, where time stands still between steps."""

import logging
from collections.abc import AsyncGenerator
from contextlib import AsyncExitStack, asynccontextmanager
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from telegram import InputFile, Update
from telegram.error import TelegramError
from telegram.ext import Application, ApplicationBuilder, ExtBot

from bot.chat.contents import contents
from bot.chat.visit import Rooms
from bot.delivery.failure import Failure, Verdict, judge
from bot.delivery.hooks import Hooks
from bot.delivery.intake import as_incoming
from bot.delivery.settling import settle
from bot.delivery.transport import call
from bot.desk.next_time import NextTimes
from bot.desk.prompts import ask_again
from bot.schedule.turn import take_turn
from bot.storage import inbox, outgoing
from bot.storage.database import Database
from bot.storage.outgoing import Outgoing
from bot.tasks import Work
from demo_script.clock import PushedClock
from demo_script.stand_in import Group, Limits, Message, Person, Press, StandIn
from demo_script.theatre import OWNER_CODE
from tests.demo_script.method_models import check_request
from tests.exploration.inline import Inline, open_inline
from tests.exploration.straight_line import StraightLine
from tests.reading_anew import misread

FIRST_UPDATE = 900_000_000
WIDE = Limits(messages_per_second=10**9, private_burst=10**9, group_per_minute=10**9)
"""Pacing is for moments that pass; here none does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """Everything as it was at one moment."""

    database: bytes
    messages: dict[int, dict[int, Message]]
    """By chat and number."""
    last_message: int
    last_update: int


class Troubles(logging.Handler):
    """Whatever was logged as a warning or worse."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.found: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep it, with its traceback."""
        text = record.getMessage()
        if record.exc_info:
            text = f"{text}: {logging.Formatter().formatException(record.exc_info)}"
        self.found.append(f"logged: {text}")


@dataclass(slots=True, kw_only=True)
class Standstill:
    """The bot without its loops: each update is handled, and each letter sent, when it is told."""

    api: StandIn
    clock: PushedClock
    connection: Inline
    database: Database
    application: Application[Any, Any, Any, Any, Any, Any]
    line: StraightLine
    log: Troubles
    groups: dict[int, Group] = field(default_factory=dict)
    """Group chats with the bot in them, by number."""
    last_update: int = FIRST_UPDATE
    _fetched: int = 0
    _at: Copy | None = None
    """What was put back last, which takes less to do once more."""

    # --- what happens ----------------------------------------------------------------------

    async def press(self, person: Person, message: Message, data: str) -> Press:
        """Press what a message shows now, or showed once; everything that follows has happened."""
        press = person.press_raw(message.message_id, data, self.group_of(message))
        await self.work()
        return press

    def group_of(self, message: Message) -> Group | None:
        """The group chat that a message stands in; None for a private one."""
        return self.groups.get(message.chat_id)

    async def say(self, person: Person, text: str) -> None:
        """Write something in private."""
        person.say(text)
        await self.work()

    async def leap(self, moment: datetime) -> None:
        """Let time pass, and do what has fallen due."""
        self.clock.push_to(moment)
        await take_turn(self.database, self.clock.now())
        await self.deliver()

    async def outage(self, since: datetime) -> None:
        """The line is back after it was down since then."""
        async with self.database.transaction() as tx:
            await ask_again(tx, since, self.clock.now())
        await self.deliver()

    async def work(self) -> None:
        """Handle every update, as the real intake and handling would, and send what follows."""
        updates = self.api.world.updates
        for body in await updates.take(self._fetched, 100, 0, None):
            self._fetched = body["update_id"] + 1
            self.last_update += 1
            await self._handle({**body, "update_id": self.last_update})
        updates.drop_all()
        await self.deliver()

    async def _handle(self, body: dict[str, Any]) -> None:
        incoming = as_incoming(body)
        assert incoming is not None
        now = self.clock.now()
        async with self.database.transaction() as tx:
            await inbox.receive(tx, [incoming], now)
        await self.application.process_update(Update.de_json(body, self.application.bot))
        async with self.database.transaction() as tx:
            if not await inbox.is_done(tx, self.last_update):
                self.log.found.append(f"not done: {body}")
            self.log.found += await misread(tx)

    async def deliver(self) -> None:
        """Send every letter that may go now, by the real rules of what follows from each result."""
        while letters := await self._claimed():
            for letter in letters:
                result = await self._send(letter)
                if isinstance(result, Failure) and result.verdict is not Verdict.UNCHANGED:
                    self.log.found.append(f"letter {letter.id}: {result}")
                async with self.database.transaction() as tx:
                    await settle(tx, letter, result, self.clock.now(), Hooks())

    async def _claimed(self) -> list[Outgoing]:
        now, letters = self.clock.now(), list[Outgoing]()
        async with self.database.transaction() as tx:
            while not letters and (heads := await outgoing.heads(tx, now)):
                claimed = [await outgoing.claim(tx, head.id, now) for head in heads]
                letters = [letter for letter in claimed if letter is not None]
        return letters

    async def _send(self, letter: Outgoing) -> object:
        arguments = {**letter.arguments, "chat_id": letter.chat}
        if letter.file is not None:
            file = letter.file
            arguments[file.field] = InputFile(file.content, filename=file.name)
        try:
            return await call(self.application.bot, letter.method, arguments)
        except TelegramError as error:
            return judge(error)

    # --- and is undone ---------------------------------------------------------------------

    def copy(self) -> Copy:
        """Everything as it is now."""
        world = self.api.world
        return Copy(
            database=self.connection.copy(),
            messages={number: dict(chat.messages) for number, chat in world.chats.items()},
            last_message=world._last_message_id,
            last_update=self.last_update,
        )

    def put_back(self, copied: Copy) -> None:
        """Everything as it was then; the clock goes on, so none of it may have passed."""
        world = self.api.world
        if self._at is not copied or not self.connection.back_to_mark():
            self.connection.put_back(copied.database)
            self._at = copied
        for number, messages in copied.messages.items():
            world.chats[number].messages = dict(messages)
        world._last_message_id = copied.last_message
        self.last_update = copied.last_update
        self.api.forget()


async def _at_once(work: Work) -> None:
    await work()


@asynccontextmanager
async def open_standstill(start: datetime) -> AsyncGenerator[Standstill]:
    """An unclaimed bot in memory, at that moment."""
    clock, log = PushedClock(start), Troubles()
    api = StandIn(clock.now, limits=WIDE)
    line = StraightLine(api.world, check_request)
    connection, database = await open_inline(start)
    bot = ExtBot(api.token, request=line, get_updates_request=line)
    rooms = Rooms(
        database=database,
        now=clock.now,
        username=api.username,
        is_owner_code=lambda tried: tried == OWNER_CODE,
        next_times=NextTimes(clock),
        follow=_at_once,
    )
    async with AsyncExitStack() as stack:
        stack.callback(connection.close)
        application = ApplicationBuilder().bot(bot).updater(None).build()
        await stack.enter_async_context(application)
        application.add_handlers(contents(rooms))
        logging.getLogger().addHandler(log)
        stack.callback(logging.getLogger().removeHandler, log)
        yield Standstill(
            api=api,
            clock=clock,
            connection=connection,
            database=database,
            application=application,
            line=line,
            log=log,
        )
