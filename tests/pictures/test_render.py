"""Pictures are made beside everything else."""

import asyncio

from bot.pictures.render import rendered
from tests.pictures.cards import progress_card

PNG = b"\x89PNG\r\n\x1a\n"


async def test_a_card_becomes_a_file() -> None:
    assert (await rendered(progress_card())).startswith(PNG)


async def test_several_at_once_are_the_same_as_one_after_the_other() -> None:
    alone = await rendered(progress_card())
    together = await asyncio.gather(*(rendered(progress_card()) for _ in range(3)))
    assert list(together) == [alone] * 3


async def test_others_go_on_meanwhile() -> None:
    turns = 0
    drawing = asyncio.ensure_future(rendered(progress_card()))
    while not drawing.done():
        await asyncio.sleep(0.001)
        turns += 1
    assert turns > 3
