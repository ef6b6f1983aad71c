"""Cards become files: which card is drawn by which drawing, in the process that draws."""

from bot.pictures.cards import Card, DigestCard, Handout, ProgressCard, QrCard
from bot.pictures.digest import draw_digest
from bot.pictures.handout import draw_handout
from bot.pictures.paper import pdf, png
from bot.pictures.progress import draw_progress
from bot.pictures.qr import draw_qr


def draw(card: Card) -> bytes:
    """The picture as a PNG file, or the page to print as a PDF document."""
    match card:
        case ProgressCard():
            return png(draw_progress(card))
        case DigestCard():
            return png(draw_digest(card))
        case QrCard():
            return png(draw_qr(card))
        case Handout():
            return pdf(draw_handout(card))
