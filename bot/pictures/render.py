"""The one way to a picture: drawn in a thread, so that nobody waits for it."""

import asyncio
from threading import Lock

from bot.pictures.cards import DigestCard, Handout, ProgressCard, QrCard

_ONE_AT_A_TIME = Lock()
"""The chart library shares fonts between figures and isn't made for several threads."""


async def rendered(card: ProgressCard | DigestCard | QrCard) -> bytes:
    """The picture as a PNG file. Takes about a second, so never inside a transaction."""
    return await asyncio.to_thread(_render, card)


async def printed(card: Handout) -> bytes:
    """The page to print as a PDF document."""
    return await asyncio.to_thread(_print, card)


def _print(card: Handout) -> bytes:
    with _ONE_AT_A_TIME:
        from bot.pictures.handout import draw_handout
        from bot.pictures.paper import pdf

        return pdf(draw_handout(card))


def _render(card: ProgressCard | DigestCard | QrCard) -> bytes:
    with _ONE_AT_A_TIME:
        # The chart library takes most of a second to import, so the first picture does it.
        from bot.pictures.digest import draw_digest
        from bot.pictures.paper import png
        from bot.pictures.progress import draw_progress
        from bot.pictures.qr import draw_qr

        match card:
            case ProgressCard():
                return png(draw_progress(card))
            case DigestCard():
                return png(draw_digest(card))
            case QrCard():
                return png(draw_qr(card))
