"""Thousands of malformed updates and files, and of buttons in the wrong hands."""

import random
from collections import Counter
from collections.abc import AsyncGenerator, Callable, Iterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from telegram import Update

from bot.buttons import KINDS, read_button
from bot.delivery.intake import as_incoming
from bot.delivery.shape import is_sound
from bot.errors import BadInput
from bot.planfile import read_plan_file
from bot.reportsfile import COLUMNS, read_reports_file
from bot.storage import inbox
from bot.timetable.calendarfile import (
    BadCalendar,
    Home,
    planned_between,
    problem_with,
    read_calendar,
)
from demo_script.stand_in import Person
from tests.campaigns.malformed import SAID, plain, spoilt, torn
from tests.exploration.scene import Scene, open_scene
from tests.exploration.standstill import Copy
from tests.journeys.evening import OWN_AFFAIRS
from tests.journeys.plans import plan_text
from tests.journeys.test_refusals import ID, SECRETS, made_of
from tests.looking import OF_FILE
from tests.timetable.files import calendar, event

NOW = datetime(2026, 8, 31, 12, tzinfo=UTC)
HOME = Home(zone="Europe/Lisbon", minutes=45)
REPORTS = ",".join(COLUMNS) + (
    "\nAna,2026-09-03,,,,,,7.5,\nAna,2026-09-03,Side plank,knees bent,30,,,8,10\n"
    "Ben,2026-09-03,Push-up,on the knees,10,,,6,3\n"
)
CALENDAR = calendar(event("a", "RRULE:FREQ=WEEKLY;BYDAY=TH", "EXDATE:20260910T173000Z"))
OFTEN = 20
"""After so many updates everything is compared, and put back."""
LONGEST = 1500
"""Characters of what is told of a failure."""
NOBODYS_CHATS = (-1, 2**31, -(2**63))
"""Chats that only a malformed update names."""
ELSEWHERE = "Elsewhere"
THEIR_GROUP = "SELECT id FROM training_group WHERE name = 'Tide Room'"
OTHERS = ("dialogue", "person")
"""Tables in which those who press have rows of their own."""


@dataclass(slots=True, kw_only=True)
class Findings:
    """What came of it; all but the counts must stay empty."""

    tried: Counter[str] = field(default_factory=Counter)
    unreadable: int = 0
    """Updates that the chat library can't make anything of; they are put aside unread."""
    tracebacks: list[str] = field(default_factory=list)
    leaks: list[str] = field(default_factory=list)
    changes: list[str] = field(default_factory=list)

    @property
    def clean(self) -> bool:
        """Whether nothing broke, nothing was told and nothing changed."""
        return not (self.tracebacks or self.leaks or self.changes)


@dataclass(slots=True, kw_only=True)
class Mischief:
    """A class in the middle of things, and people who have no business in it."""

    scene: Scene
    outsiders: list[Person]
    buttons: list[str]
    """What those of the class could press, and what could be made of the ids in the database."""
    updates: list[dict[str, Any]]
    """Valid ones of every kind, from the outsiders."""
    start: Copy
    before: dict[str, list[tuple[object, ...]]]
    found: Findings = field(default_factory=Findings)

    async def befall(self, luck: random.Random, count: int) -> None:
        """So many updates, and a look at everything after each few."""
        for number in range(count):
            before = {each.person_id: len(each.messages) for each in self.outsiders}
            forged = luck.random() < 0.4
            person = luck.choice(self.outsiders)
            if forged:
                data = luck.choice(self.buttons)
                if luck.random() < 0.3:
                    data = torn(data, luck)[:64] or "-"
                self.found.tried["forged or replayed buttons"] += 1
                await self._press(person, data)
            else:
                self.found.tried["malformed updates"] += 1
                await self._handle(self._malformed(luck))
            self._read_what_was_said(before)
            if number % OFTEN == OFTEN - 1 or number == count - 1:
                self._compare()

    def _malformed(self, luck: random.Random) -> dict[str, Any]:
        update = luck.choice(self.updates)
        if luck.random() < 0.3 and "message" in update:
            text = luck.choice(SAID)
            return plain({**update, "message": {**update["message"], "text": text}})
        return plain(spoilt(update, luck))

    async def _press(self, person: Person, data: str) -> None:
        press = person.press_raw(1, data.encode(errors="ignore").decode())
        (body,) = await self.scene.still.api.world.updates.take(0, 1, 0, None)
        await self._handle(body)
        if press.answer is None:
            self.found.tracebacks.append(f"nobody answered {data!r}")
        elif any(secret in press.answer.text for secret in SECRETS):
            self.found.leaks.append(f"{data!r}: {press.answer.text!r}")

    async def _handle(self, body: dict[str, Any]) -> None:
        """As intake and handling do it: whatever can't be read is put aside."""
        still = self.scene.still
        still.api.world.updates.drop_all()
        still.last_update += 1
        body = {**body, "update_id": still.last_update}
        incoming = as_incoming(body)
        assert incoming is not None
        async with still.database.transaction() as tx:
            await inbox.receive(tx, [incoming], still.clock.now())
        if not is_sound(body):
            self.found.unreadable += 1
            return
        try:
            update = Update.de_json(body, still.application.bot)
        except Exception:  # noqa: BLE001 - as the bot's own handling does it
            self.found.unreadable += 1
            return
        try:
            await still.application.process_update(update)
        except Exception as broken:  # noqa: BLE001 - that is what is looked for
            self.found.tracebacks.append(f"{broken!r} from {body}")
        await still.deliver()
        logged = [each for each in still.log.found if "Traceback" in each or "Error" in each]
        self.found.tracebacks += [f"{each}\nfrom {body}" for each in logged]
        still.log.found.clear()

    def _read_what_was_said(self, before: dict[int, int]) -> None:
        for person in self.outsiders:
            for message in person.messages[before[person.person_id] :]:
                if any(secret in message.text for secret in SECRETS):
                    self.found.leaks.append(message.text)

    def _compare(self) -> None:
        own = {*self._own_ids()}
        for name, rows in dump(self.scene).items():
            changed = set(rows) ^ set(self.before[name])
            self.found.changes += [f"{name}: {each}" for each in changed if own.isdisjoint(each)]
        self.scene.still.put_back(self.start)

    def _own_ids(self) -> Iterator[object]:
        """What is theirs: accounts, rows about themselves, their own group and its chats."""
        rows, accounts = self.scene.still.connection.rows, {p.person_id for p in self.outsiders}
        yield from accounts
        yield from (row[0] for row in rows("SELECT id, account FROM person") if row[1] in accounts)
        yield from (row[0] for row in rows(THEIR_GROUP))
        chats = self.scene.still.api.world.chats
        yield from NOBODYS_CHATS
        yield from (number for number, chat in chats.items() if chat.title == ELSEWHERE)


def dump(scene: Scene) -> dict[str, list[tuple[object, ...]]]:
    """All that the group is made of."""
    rows = scene.still.connection.rows
    names = [str(name) for (name,) in rows(OF_FILE)]
    kept = [name for name in names if name not in (*OWN_AFFAIRS, *OTHERS)]
    return {name: sorted(rows(f"SELECT * FROM {name}"), key=repr) for name in kept}  # noqa: S608


@asynccontextmanager
async def open_mischief(luck: random.Random) -> AsyncGenerator[Mischief]:
    """A class that is over, with answers, pain, alerts and a chat; and three others."""
    async with open_scene() as scene:
        await _lively(scene)
        outsiders = [await _stranger(scene), *await _other_group(scene)]
        scene.still.log.found.clear()
        yield Mischief(
            scene=scene,
            outsiders=outsiders,
            buttons=_buttons(scene, luck),
            updates=await _updates(scene, outsiders),
            start=scene.still.copy(),
            before=dump(scene),
        )


async def _lively(scene: Scene) -> None:
    await scene.open_group_chat()
    await scene.class_is_over()
    await scene.answer_all(h="pain")
    for command in ("/variant", "/pause", "/hurt", "/settings", "/mydata", "/progress", "/scale"):
        await scene.say(command)
    for command in ("/people", "/attendance", "/digest", "/alerts", "/plan", "/timetable"):
        await scene.tell(command)


async def _stranger(scene: Scene) -> Person:
    stranger = scene.still.api.person("Stranger")
    await scene.still.say(stranger, "/start")
    return stranger


async def _other_group(scene: Scene) -> list[Person]:
    """Its instructor and a member, who have nothing to do with the first group."""
    await scene.send("other.toml", plan_text("Tide Room", movements=OTHER_MOVEMENT))
    link = scene.link_given()
    others = [scene.still.api.person(name) for name in ("Olga", "Otto")]
    for person in others:
        person.open_link(link)
        await scene.still.work()
        yes = next(b.data for row in person.last_message.buttons for b in row if b.data)
        await scene.still.press(person, person.last_message, yes)
    async with scene.still.database.transaction() as tx:
        await tx.execute(
            """INSERT INTO leading (group_id, person_id, since)
            SELECT training_group.id, person.id, met_at FROM training_group, person
            WHERE training_group.name = 'Tide Room' AND account = :account""",
            account=others[0].person_id,
        )
        await tx.execute(
            """DELETE FROM leading WHERE group_id IN
            (SELECT id FROM training_group WHERE name = 'Tide Room')
            AND person_id <> (SELECT id FROM person WHERE account = :account)""",
            account=others[0].person_id,
        )
    return others


OTHER_MOVEMENT = """
[[movement]]
library = "wall sit"
plan = { variation = "thighs level", amount = 30 }
"""


def _buttons(scene: Scene, luck: random.Random) -> list[str]:
    """Everything that was ever shown to those of the class, and more of every kind."""
    theirs = [*scene.instructor.messages, *scene.member.messages]
    shown = [b.data for each in theirs for row in each.buttons for b in row if b.data]
    ids = [
        each
        for rows in dump(scene).values()
        for row in rows[:2]
        for each in row
        if isinstance(each, str) and ID.fullmatch(each)
    ]
    made = [data for kind in KINDS for data in list(made_of(kind, ids, luck))[:40]]
    assert all(read_button(each) for each in shown)
    return [*shown, *made]


async def _updates(scene: Scene, outsiders: list[Person]) -> list[dict[str, Any]]:
    """What the chat service says when they write, send, press, rewrite, block and come back."""
    api = scene.still.api
    for person in outsiders:
        message = person.say("hello")
        person.rewrite(message, "hello again")
        person.send_document("plan.toml", b"x", "a caption")
        person.send_document("times.ics", b"x")
        person.press_raw(1, "a:aaaaaaaaaaaa:c:7")
        person.press_raw(1, "a:aaaaaaaaaaaa:c:7", accessible=False)
        person.block()
        person.unblock()
    elsewhere = api.group(ELSEWHERE, outsiders[1:])
    outsiders[1].say("/digest", elsewhere)
    outsiders[2].say("/start", elsewhere)
    elsewhere.remove(outsiders[2])
    elsewhere.upgrade()
    elsewhere.remove_bot()
    bodies = await api.world.updates.take(0, 100, 0, None)
    api.world.updates.drop_all()
    return [plain(each) for each in bodies]


# --- files ---------------------------------------------------------------------------------------


def read_torn_files(luck: random.Random, count: int, found: Findings) -> None:
    """So many of each kind: each is refused for a reason, or taken."""
    plan = read_plan_file(plan_text(), "plan.toml").plan
    readers: tuple[tuple[str, str, Callable[[bytes], object]], ...] = (
        ("plan files", plan_text(), lambda each: read_plan_file(each, "plan.toml")),
        ("CSV files", REPORTS, lambda each: read_reports_file(each, "reports.csv", plan)),
        ("calendar files", CALENDAR, _calendar),
    )
    for kind, valid, read in readers:
        read(valid.encode())
        for _ in range(count):
            content = torn(valid, luck).encode(errors="surrogatepass")
            found.tried[kind] += 1
            try:
                read(content)
            except (BadInput, BadCalendar):
                continue
            except Exception as broken:  # noqa: BLE001 - that is what is looked for
                found.tracebacks.append(f"{kind}: {broken!r} from {content!r}"[:LONGEST])


def _calendar(content: bytes) -> None:
    read = read_calendar(content.decode(errors="replace"))
    if problem_with(read, HOME, NOW) is None:
        planned_between(read, HOME, NOW, NOW + timedelta(weeks=12))
