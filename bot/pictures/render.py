"""The one way to a picture: drawn by another process, so that nobody waits for it."""

from bot.pictures.cards import DigestCard, Handout, ProgressCard, QrCard
from bot.pictures.drawer import Drawer

_DRAWER = Drawer()


async def rendered(card: ProgressCard | DigestCard | QrCard) -> bytes:
    """The picture as a PNG file. Takes about a second, so never inside a transaction.

    NotDrawn if it can't be drawn.
    """
    return await _DRAWER.drawn(card)


async def printed(card: Handout) -> bytes:
    """The page to print as a PDF document; NotDrawn if it can't be drawn."""
    return await _DRAWER.drawn(card)


def drawing() -> bool:
    """Whether somebody waits for a picture."""
    return _DRAWER.busy


async def end_drawing() -> None:
    """Finish what is being drawn, and let go of the process; it starts again if need be."""
    await _DRAWER.end()
