"""The one way to a picture: drawn in a thread, so that nobody waits for it."""

import asyncio
from threading import Lock

from bot.pictures.cards import DigestCard, ProgressCard

_ONE_AT_A_TIME = Lock()
"""The chart library shares fonts between figures and isn't made for several threads."""


async def rendered(card: ProgressCard | DigestCard) -> bytes:
    """The picture as a PNG file. Takes about a second, so never inside a transaction."""
    return await asyncio.to_thread(_render, card)


def _render(card: ProgressCard | DigestCard) -> bytes:
    with _ONE_AT_A_TIME:
        # The chart library takes most of a second to import, so the first picture does it.
        from bot.pictures.digest import draw_digest
        from bot.pictures.paper import png
        from bot.pictures.progress import draw_progress

        figure = draw_progress(card) if isinstance(card, ProgressCard) else draw_digest(card)
        return png(figure)
