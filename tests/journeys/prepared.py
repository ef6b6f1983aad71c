"""A stage with a group before its first class: played once, then put up for each test."""

import copy
import sqlite3
from collections.abc import Awaitable, Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from bot.place import Server
from demo_script.stand_in import Person
from demo_script.stand_in.world import World
from demo_script.theatre import Theatre
from tests.journeys.evening import Evening

FILE = "class-effort.sqlite3"
OF_THE_WORLD = ("bot", "accounts", "chats", "commands", "about", "luck", "_last_message_id")
OF_UPDATES = ("_next_id", "_luck", "_last_at", "_allowed")
OF_FILES = ("_by_id", "_by_path")


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """Everything that a stage holds when all is quiet, apart from the bot, which starts anew."""

    database: bytes
    server: Server | None
    """Where it is kept instead, to be copied there."""
    world: dict[str, Any]
    moment: datetime
    instructor: int
    members: dict[str, int]
    link: str

    def write(self, folder: Path) -> None:
        """Put the database where the bot looks for it."""
        (folder / FILE).write_bytes(self.database)
        (folder / FILE).chmod(0o600)

    def put_up(self, theatre: Theatre, file: Path) -> Evening:
        """The chat service knows all of it again, and everyone is on stage."""
        world = theatre.api.world
        _restore(world, copy.deepcopy(self.world))
        people = {
            name: Person(world, world.accounts[number]) for name, number in self.members.items()
        }
        return Evening(
            theatre=theatre,
            file=file,
            instructor=Person(world, world.accounts[self.instructor]),
            members=people,
            link=self.link,
        )


async def prepare(evening: Evening, play: Callable[[Evening], Awaitable[object]]) -> Prepared:
    """Play what comes before every test, and keep how everything stands then."""
    await play(evening)
    await evening.settle()
    world = evening.api.world
    database = b""
    if evening.server is None:
        with closing(sqlite3.connect(evening.file)) as connection:
            database = connection.serialize()
    return Prepared(
        database=database,
        server=evening.server,
        world=copy.deepcopy(
            {
                **{name: getattr(world, name) for name in OF_THE_WORLD},
                "updates": {name: getattr(world.updates, name) for name in OF_UPDATES},
                "files": {name: getattr(world.files, name) for name in OF_FILES},
                "log": list(world.log.events),
            }
        ),
        moment=evening.now,
        instructor=evening.instructor.person_id,
        members={name: person.person_id for name, person in evening.members.items()},
        link=evening.link,
    )


def _restore(world: World, kept: dict[str, Any]) -> None:
    for name in OF_THE_WORLD:
        setattr(world, name, kept[name])
    for name in OF_UPDATES:
        setattr(world.updates, name, kept["updates"][name])
    for name in OF_FILES:
        setattr(world.files, name, kept["files"][name])
    world.log.events[:] = kept["log"]
