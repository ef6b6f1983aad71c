"""The post office: intake, handling and sending, started together and drained in order."""

import asyncio

from bot.clock import Clock
from bot.delivery.following import Following
from bot.delivery.handling import AnyApplication, Handling
from bot.delivery.hooks import Hooks
from bot.delivery.intake import Intake
from bot.delivery.sender import Sender
from bot.storage import inbox, outgoing
from bot.storage.database import Database
from bot.storage.floods import Allowance
from bot.storage.inbox import INBOX
from bot.storage.outbox import OUTBOX, SETTLED
from bot.tasks import Tasks

POLL_SECONDS = 50


class Delivery:
    """Everything that goes in and out of the chat, for an application without an updater."""

    def __init__(
        self,
        application: AnyApplication,
        database: Database,
        clock: Clock,
        *,
        hooks: Hooks | None = None,
        poll_timeout: int = POLL_SECONDS,
        allowance: Allowance | None = None,
    ) -> None:
        hooks = hooks or Hooks()
        self._database = database
        self._clock = clock
        self._intake = Intake(
            application.bot, database, clock, hooks, poll_timeout, allowance or Allowance()
        )
        self._handling = Handling(application, database, clock)
        self._sender = Sender(application.bot, database, clock, hooks)
        self._stop = asyncio.Event()
        self._loops: list[asyncio.Task[None]] = []
        self._settled = database.woken(SETTLED)
        self.following = Following(self._settled)

    def open(self, tasks: Tasks) -> None:
        """Begin to store updates, which wait until there is who handles them, and to send letters.

        A loop that can't go on fails its task, and so the house.
        """
        self.following.open(tasks)
        self._loops = [
            tasks.start(self._intake.run(self._stop), name="intake"),
            tasks.start(self._sender.run(self._stop, tasks), name="sender"),
        ]

    def start(self, tasks: Tasks) -> None:
        """Begin to handle updates as well."""
        if not self._loops:
            self.open(tasks)
        self._loops.append(tasks.start(self._handling.run(self._stop, tasks), name="handling"))

    async def drain(self) -> None:
        """Stop asking for updates, then finish what is being handled and sent, and what follows."""
        self._stop.set()
        for name in (INBOX, OUTBOX):
            self._database.woken(name).set()
        if self._loops:
            self._loops[0].cancel()  # it hangs in a long poll; what it fetched comes again
        await asyncio.gather(*self._loops, return_exceptions=True)
        await self.following.drain()

    @property
    def busy(self) -> bool:
        """Whether a handler runs, something follows, or a letter is in the air."""
        return self._handling.busy or self.following.busy or self._sender.busy

    async def idle(self) -> bool:
        """Whether everything that came in is handled, and nothing is left that could go out now."""
        if self.busy:
            return False
        now = self._clock.now()
        async with self._database.transaction() as tx:
            return not await inbox.waiting(tx) and await outgoing.nothing_to_send(tx, now)

    async def until_idle(self) -> None:
        """Wait until `idle`; letters that wait for their moment are not waited for."""
        while True:
            self._settled.clear()
            if await self.idle():
                return
            await self._settled.wait()
