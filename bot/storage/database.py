"""The one way to open a transaction, whichever engine keeps what is written."""

import asyncio
import logging
from collections.abc import AsyncGenerator, Callable, Coroutine, Iterator, Mapping
from contextlib import asynccontextmanager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Generic, Protocol, TypeAlias, TypeVar

from bot.clock import Clock
from bot.errors import StorageTrouble, Trouble
from bot.logs import fields
from bot.place import Place
from bot.storage.driver import need_driver

LOG = logging.getLogger(__name__)

T = TypeVar("T")
Named: TypeAlias = Mapping[str, object]
"""Values by the names that a statement has for them."""


class Row(Protocol):
    """A row of an answer: its values by name or place, or one after the other."""

    def __getitem__(self, key: int | str, /) -> Any: ...
    def __iter__(self) -> Iterator[Any]: ...
    def __len__(self) -> int: ...
    def keys(self) -> list[str]: ...


class Statements(Protocol):
    """Takes statements, one after the other."""

    async def run(self, sql: str, named: Named) -> int:
        """Run one statement; says how many rows it changed."""

    async def fetch(self, sql: str, named: Named) -> list[Row]:
        """Run one statement; every row of its answer."""


class Engine(Statements, Protocol):
    """What SQLite and PostgreSQL each do in their own way: one connection, used by one task."""

    async def begin(self, *, lasting: bool = True) -> None:
        """Open a transaction in which nobody else writes."""

    async def commit(self) -> None:
        """Keep what was done since; once it returns, a power cut takes nothing of it away.

        Unless it isn't `lasting`: then it may, and with it all that was done later and isn't.
        """

    async def rollback(self) -> None:
        """Undo what was done since; fine if there is no transaction, or no connection."""

    @property
    def writes(self) -> int:
        """Grows with each statement that changes something."""

    def trouble_of(self, error: BaseException) -> Trouble | None:
        """What is the matter with the database; None if it's something else."""

    async def tidy(self) -> None:
        """Refresh what the query planner knows."""

    async def sweep(self) -> bool:
        """Write everything anew without what was deleted; false if a reader was in the way."""


@dataclass(frozen=True, slots=True)
class Listener(Generic[T]):
    """Is told of what was written, rather than to look for it."""

    hear: Callable[[T], None]
    """Called when it's committed, before anybody else gets at the database."""
    wants: Callable[[T], bool] = lambda _: True
    """Asked before it is written."""


class Transaction:
    """What storage functions need to do anything. Named parameters only."""

    def __init__(
        self, engine: Statements, listeners: Mapping[str, Listener[Any]] | None = None
    ) -> None:
        self._engine = engine
        self._listeners = listeners or {}
        self.wakes: set[str] = set()
        self.told: list[tuple[str, object]] = []
        """By the name of the kind."""

    async def execute(self, sql: str, /, **named: object) -> int:
        """Run one statement; says how many rows it changed."""
        return await self._engine.run(sql, named)

    async def all(self, sql: str, /, **named: object) -> list[Row]:
        """Every row of the answer, also of a RETURNING."""
        return await self._engine.fetch(sql, named)

    async def one(self, sql: str, /, **named: object) -> Row | None:
        """The first row, or None when there is none."""
        rows = await self.all(sql, **named)
        return rows[0] if rows else None

    async def value(self, sql: str, /, **named: object) -> Any:
        """The first column of the first row, or None when there is none."""
        row = await self.one(sql, **named)
        return None if row is None else row[0]

    def wake(self, name: str) -> None:
        """Wake whoever waits for this kind of work, once the transaction is over."""
        self.wakes.add(name)

    def wanted(self, name: str, what: object) -> bool:
        """Whether whoever listens wants to be told of this.

        They don't where this transaction has others of the kind, told or to be looked for: those
        come first.
        """
        alone = name not in self.wakes and all(name != kind for kind, _ in self.told)
        return alone and name in self._listeners and self._listeners[name].wants(what)

    def tell(self, name: str, what: object) -> None:
        """Tell whoever listens, once this is committed: they needn't look for it."""
        self.told.append((name, what))


Reading: TypeAlias = Callable[[Transaction], Coroutine[Any, Any, T]]


class Reader(Protocol):
    """Reads beside whoever writes."""

    async def read(self, reading: Reading[T]) -> T:
        """What this reads, all of it as of one moment."""

    def trouble_of(self, error: BaseException) -> Trouble | None:
        """What is the matter with the database; None if it's something else."""


class Database:
    """An open database."""

    def __init__(self, engine: Engine, reader: Reader | None = None) -> None:
        self._engine = engine
        self._reader = reader
        self._turn = asyncio.Lock()  # one writer at a time
        self._line = asyncio.Lock()
        """Of those who needn't hurry only the first stands in line with the others."""
        self._holder: asyncio.Task[Any] | None = None
        self._events: dict[str, asyncio.Event] = {}
        self._listeners: dict[str, Listener[Any]] = {}
        self._trouble: Trouble | None = None
        """What was told and isn't over yet."""

    def woken(self, name: str) -> asyncio.Event:
        """The event that `Transaction.wake` sets. Clear it before looking for work, not after."""
        return self._events.setdefault(name, asyncio.Event())

    def listen(self, name: str, listener: Listener[Any]) -> None:
        """From now on this one is told of this kind of work. There is one listener of a kind.

        What a server has committed while it went away may be told to nobody.
        """
        self._listeners[name] = listener

    @asynccontextmanager
    async def transaction(
        self, *, patient: bool = False, lasting: bool = True
    ) -> AsyncGenerator[Transaction]:
        """All of it or none of it, also when the task is cancelled halfway.

        `patient` is whatever nobody looks at a screen for: however many of its kind there are, a
        tap waits for one of them at most, and none waits for ever. Not `lasting` is what is done
        again by itself if a power cut takes it away: it isn't waited for until it's on the disk.
        Whatever is committed later and lasts makes it last as well.

        Never await the chat API in here: everybody else waits for this turn. StorageTrouble when
        the database can't be used at the moment: trying later may work. Nothing has happened, but
        for a server that went away during the commit: so what is tried again must do no harm twice.
        """
        self._must_not_hold()
        async with self._line if patient else nullcontext(), self._turn:
            self._holder = asyncio.current_task()
            transaction = Transaction(self._engine, self._listeners)
            writes = self._engine.writes
            try:
                # inside the try, since cancellation can land on this line too
                await self._engine.begin(lasting=lasting)
                yield transaction
                await self._engine.commit()
                self._works_again(wrote=self._engine.writes > writes)
            except BaseException as error:
                await asyncio.shield(self._engine.rollback())
                trouble = self._engine.trouble_of(error)
                if trouble is None:
                    raise
                self._tell(trouble)
                raise StorageTrouble(trouble) from error
            else:
                for name, what in transaction.told:
                    if name in self._listeners:
                        self._listeners[name].hear(what)
            finally:
                self._holder = None
                # also after a failure: a commit that was cancelled while it ran has happened
                for name in transaction.wakes:
                    self.woken(name).set()

    async def read(self, reading: Reading[T]) -> T:
        """What this reads of all that is committed by now, for whoever reads much.

        Of a file it is read aside, and nobody else waits; it may wait for nothing but the file. On
        a server it is a patient transaction. StorageTrouble as in others; who writes tells of it.
        """
        self._must_not_hold()
        if self._reader is None:
            async with self.transaction(patient=True) as tx:
                return await reading(tx)
        try:
            return await self._reader.read(reading)
        except Exception as error:
            trouble = self._reader.trouble_of(error)
            if trouble is None:
                raise
            raise StorageTrouble(trouble) from error

    def _must_not_hold(self) -> None:
        if self._holder is not None and self._holder is asyncio.current_task():
            raise RuntimeError("a transaction inside a transaction; pass the outer one on")

    def _tell(self, trouble: Trouble) -> None:
        """Once, however often it is met: everybody else only waits."""
        if trouble is not self._trouble:
            self._trouble = trouble
            LOG.error("the database can't be used", extra=fields(trouble=trouble))

    def _works_again(self, *, wrote: bool) -> None:
        """A full or read-only database still reads well, so only a write shows that it's over."""
        if self._trouble is not None and (wrote or self._trouble in (Trouble.LOCKED, Trouble.AWAY)):
            LOG.warning("the database works again", extra=fields(trouble=self._trouble))
            self._trouble = None

    async def tidy(self) -> None:
        """Let the engine refresh what its query planner knows; meant for once a day."""
        async with self._turn:
            await self._engine.tidy()

    async def sweep(self) -> bool:
        """Write it all anew without what was deleted; false if a reader was in the way."""
        async with self._turn:
            return await self._engine.sweep()


@asynccontextmanager
async def open_database(place: Place, clock: Clock | None = None) -> AsyncGenerator[Database]:
    """Open the database, upgrade it, and close it whatever happens.

    Raises BadInput for a place that can't be used or isn't a database, DatabaseTooNew for one that
    a newer program wrote, StorageTrouble where the disk is full or the server is away. On a server
    only one process at a time may have it open; for a file, that is asked of `bot.storage.alone`.
    """
    # Each engine is imported where it is chosen: the other's driver needn't even be installed.
    if isinstance(place, Path):
        from bot.storage.sqlite import open_file
        from bot.storage.sqlite_reader import open_reader

        async with open_file(place, clock) as file, open_reader(place) as reader:
            yield Database(file, reader)
    else:
        need_driver()
        from bot.storage.postgres import open_server

        async with open_server(place, clock) as server:
            yield Database(server)
