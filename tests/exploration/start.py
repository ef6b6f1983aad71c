"""Whoever explores, where they begin."""

from collections.abc import AsyncGenerator
from contextlib import asynccontextmanager

from tests.exploration.beginning import Entry
from tests.exploration.exploring import Explorer
from tests.exploration.scene import open_scene
from tests.journeys.plans import plan_text


@asynccontextmanager
async def begun(entry: Entry) -> AsyncGenerator[Explorer]:
    """The member or the instructor of this entry; nothing has gone wrong on the way there."""
    async with open_scene(plan_text(movements=entry.movements)) as scene:
        await entry.prepare(scene)
        assert scene.still.log.found == []
        assert scene.still.line.refused == []
        person = scene.instructor if entry.leads else scene.member
        yield Explorer(scene.still, person, leads=entry.leads, typed=entry.typed)
