"""No letter is delivered twice without a doubt, and each one comes to an end."""

import asyncio
import shutil
import tempfile
from collections import Counter, defaultdict
from collections.abc import Coroutine
from contextlib import AsyncExitStack
from datetime import timedelta
from pathlib import Path
from typing import Any, TypeVar

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bot.delivery.failure import Failure, Verdict
from bot.delivery.hooks import Hooks
from bot.delivery.settling import settle
from bot.storage import outbox, outcomes, outgoing, reach
from bot.storage.database import Transaction, open_database
from bot.storage.outbox import Kind, Letter, Priority
from bot.storage.outgoing import Outgoing
from tests.fixed_clock import FixedClock

T = TypeVar("T")
FIRM = [Verdict.LATER, Verdict.REFUSED, Verdict.UNREACHABLE, Verdict.GONE, Verdict.MOVED]
waits = st.none() | st.integers(1, 90).map(lambda seconds: timedelta(seconds=seconds))


class Post(RuleBasedStateMachine):
    """Plays the sender and the chat API: letters come, fly, land, get lost, and the power fails."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.runner = asyncio.Runner()
        self.clock = FixedClock()
        self.stack = AsyncExitStack()
        self.database = self.run(
            self.stack.enter_async_context(open_database(self.folder / "post", self.clock))
        )
        self.chats = {1: 1, 2: 2, -3: -3}
        """Each chat's present id."""
        self.letters: list[Letter] = []
        self.flying: dict[str, Outgoing] = {}
        self.arrived = Counter[str]()
        self.doubts = Counter[str]()
        self.journal: defaultdict[int, list[str]] = defaultdict(list)
        """Per chat, what arrived, in order."""

    def run(self, work: Coroutine[Any, Any, T]) -> T:
        return self.runner.run(work)

    @rule(
        chat=st.sampled_from([1, 2, -3]),
        kind=st.sampled_from(Kind),
        priority=st.sampled_from(Priority),
        slot=st.sampled_from([None, None, "s"]),
        delay=st.sampled_from([None, None, 30]),
        limit=st.sampled_from([None, None, 45]),
        edits=st.none() | st.integers(0, 9),
        anew=st.booleans(),
    )
    def queue(
        self,
        chat: int,
        kind: Kind,
        priority: Priority,
        slot: str | None,
        delay: int | None,
        limit: int | None,
        edits: int | None,
        anew: bool,
    ) -> None:
        changes = edits is not None and edits < len(self.letters)
        letter = Letter(
            id=str(len(self.letters)),
            chat=self.chats[chat],
            method="editMessageText" if changes else "sendMessage",
            arguments={"text": "x"},
            kind=kind,
            priority=priority,
            slot=slot,
            not_before=None if delay is None else self.clock.now() + timedelta(seconds=delay),
            not_after=None if limit is None else self.clock.now() + timedelta(seconds=limit),
            edits=str(edits) if changes else None,
            anew=anew,
        )
        self.letters.append(letter)
        assert self.run(self.with_tx(lambda tx: outbox.queue(tx, letter, self.clock.now())))

    @precondition(lambda self: self.letters)
    @rule(data=st.data())
    def queue_again(self, data: st.DataObject) -> None:
        letter = data.draw(st.sampled_from(self.letters))
        assert not self.run(self.with_tx(lambda tx: outbox.queue(tx, letter, self.clock.now())))

    @rule(place=st.integers(0, 2))
    def take_off(self, place: int) -> None:
        self.run(self._take_off(place))

    async def _take_off(self, place: int) -> None:
        now = self.clock.now()
        async with self.database.transaction() as tx:
            heads = await outgoing.heads(tx, now)
            if not heads:
                return
            taken = await outgoing.claim(tx, heads[place % len(heads)].id, now)
        if taken is not None:
            assert taken.chat not in {other.chat for other in self.flying.values()}
            self.flying[taken.id] = taken

    @precondition(lambda self: self.flying)
    @rule(data=st.data())
    def land(self, data: st.DataObject) -> None:
        letter = self.flying[data.draw(st.sampled_from(sorted(self.flying)))]
        self.arrives(letter)
        self.settle(letter, {"message_id": sum(self.arrived.values())})

    @precondition(lambda self: self.flying)
    @rule(data=st.data(), verdict=st.sampled_from(FIRM), wait=waits)
    def be_refused(self, data: st.DataObject, verdict: Verdict, wait: timedelta | None) -> None:
        letter = self.flying[data.draw(st.sampled_from(sorted(self.flying)))]
        new = None
        if verdict is Verdict.MOVED:
            new = letter.chat - 1000
            self.chats = {name: new if at == letter.chat else at for name, at in self.chats.items()}
            self.journal[new] = self.journal.pop(letter.chat, [])
        self.settle(letter, Failure(verdict=verdict, reason="x", wait=wait, new_chat=new))

    @precondition(lambda self: self.flying)
    @rule(data=st.data(), arrives=st.booleans())
    def get_lost(self, data: st.DataObject, arrives: bool) -> None:
        letter = self.flying[data.draw(st.sampled_from(sorted(self.flying)))]
        self.doubts[letter.id] += 1
        if arrives:
            self.arrives(letter)
        self.settle(letter, Failure(verdict=Verdict.UNCERTAIN, reason="x"))

    @rule(arrive=st.booleans())
    def lose_power(self, arrive: bool) -> None:
        for letter in self.flying.values():
            self.doubts[letter.id] += 1
            if arrive:
                self.arrives(letter)
        self.flying.clear()
        self.run(self.with_tx(lambda tx: outcomes.recover(tx, (), self.clock.now())))

    @rule(seconds=st.sampled_from([1, 10, 60]))
    def pass_time(self, seconds: int) -> None:
        self.clock.push(seconds)

    @rule(chat=st.sampled_from([1, 2, -3]))
    def write_to_us(self, chat: int) -> None:
        self.run(self.with_tx(lambda tx: reach.clear_unreachable(tx, self.chats[chat])))

    @invariant()
    def nothing_arrives_twice_without_a_doubt(self) -> None:
        for name, times in self.arrived.items():
            assert times <= 1 + self.doubts[name]
            kind = self.letters[int(name)].kind
            if kind is Kind.CONFIRMATION and self.letters[int(name)].method == "sendMessage":
                assert times == 1

    @invariant()
    def a_chat_gets_its_letters_in_order(self) -> None:
        for names in self.journal.values():
            firm = [
                int(name)
                for name in names
                if not self.doubts[name] and self.letters[int(name)].not_before is None
            ]
            assert firm == sorted(firm)

    def arrives(self, letter: Outgoing) -> None:
        self.journal[letter.chat].append(letter.id)
        if letter.method == "sendMessage":
            self.arrived[letter.id] += 1

    def settle(self, letter: Outgoing, result: object) -> None:
        del self.flying[letter.id]
        self.run(self.with_tx(lambda tx: settle(tx, letter, result, self.clock.now(), Hooks())))

    async def with_tx(self, work: Any) -> Any:
        async with self.database.transaction() as tx:
            return await work(tx)

    def teardown(self) -> None:
        try:
            self.lose_power(arrive=True)
            for _ in range(20 + 10 * len(self.letters)):
                self.take_off(0)
                for letter in tuple(self.flying.values()):
                    self.arrives(letter)
                    self.settle(letter, {"message_id": sum(self.arrived.values())})
                self.pass_time(60)
            self.nothing_arrives_twice_without_a_doubt()
            self.a_chat_gets_its_letters_in_order()
            self.run(self.with_tx(self.everything_ended))
        finally:
            self.run(self.stack.aclose())
            self.runner.close()
            shutil.rmtree(self.folder)

    async def everything_ended(self, tx: Transaction) -> None:
        for row in await tx.all("SELECT id, state, doubts, method FROM outbox"):
            state, times = row["state"], self.arrived[row["id"]]
            assert state not in ("queued", "sending")
            assert row["doubts"] == self.doubts[row["id"]]
            if row["method"] == "sendMessage" and state == "sent":
                assert times >= 1
            if state in ("failed", "dropped", "superseded") and not row["doubts"]:
                assert times == 0


Post.TestCase.settings = settings(max_examples=20, stateful_step_count=30, deadline=None)
TestPost = Post.TestCase
