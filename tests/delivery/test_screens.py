"""Whatever happens on the way, each message ends as it was changed last."""

import asyncio
from random import Random

import pytest

from bot.storage.outbox import Letter
from tests.delivery.loopback import Answer, Loopback, fine, hang_up, held, refusal
from tests.delivery.sending import House, letter, tap

CHATS = (1, 2, 3)
STEPS = 60


class Evening:
    """Messages and changes in some chats, while the line is bad."""

    def __init__(self, api: Loopback, house: House, seed: int) -> None:
        self.api = api
        self.house = house
        self.luck = Random(seed)
        self.number = 0
        self.said: dict[int, list[str]] = {chat: [] for chat in CHATS}
        self.last: dict[int, str] = {}
        self.held: list[asyncio.Event] = []

    def message(self, chat: int) -> Letter:
        self.number += 1
        self.said[chat].append(f"message {self.number}")
        return letter(f"message {self.number}", chat)

    def change(self, chat: int) -> Letter:
        self.number += 1
        self.last[chat] = f"change {self.number}"
        return tap(self.last[chat], chat, slot="7", at_once=self.luck.random() < 0.8)

    def trouble(self) -> Answer:
        """What happens to a change: it is held up, refused for now, or not known to arrive."""
        landing = asyncio.Event()
        self.held.append(landing)
        too_many, broken = refusal(429, "Too Many", retry_after=3), refusal(502, "Bad Gateway")
        return held(landing, self.luck.choice((fine, too_many, broken, hang_up)))

    async def step(self) -> None:
        chat = self.luck.choice(CHATS)
        match self.luck.randrange(8):
            case 0:
                await self.house.queue(self.message(chat))
            case 1:
                await self.house.queue(self.message(chat), self.change(chat))
            case 2:
                await self.house.queue(self.change(chat), self.message(self.luck.choice(CHATS)))
            case 3 | 4:
                await self.house.queue(self.change(chat))
            case 5:
                if self.held:
                    self.luck.choice(self.held).set()
                self.house.noon.push(self.luck.choice((1, 2, 10)))
            case 6:
                self.api.answers["editMessageText"].append(self.trouble())
            case _:
                await asyncio.sleep(0.005)

    async def end(self) -> None:
        """The line is good again, and all that waits for its moment has it."""
        self.api.answers["editMessageText"].clear()
        for landing in self.held:
            landing.set()
        for _ in range(12):
            await self.house.settled()
            self.house.noon.push(15)
        await self.house.settled()

    def heard(self, method: str, chat: int) -> list[str]:
        return [str(call["text"]) for call in self.api.of(method) if call["chat_id"] == chat]


@pytest.mark.parametrize("seed", range(20))
async def test_the_last_change_is_what_stays(api: Loopback, house: House, seed: int) -> None:
    evening = Evening(api, house, seed)
    for _ in range(STEPS):
        await evening.step()
    await evening.end()
    for chat in CHATS:
        assert evening.heard("sendMessage", chat) == evening.said[chat]
        assert evening.heard("editMessageText", chat)[-1] == evening.last[chat]
    assert set((await house.states()).values()) <= {"sent", "superseded"}
