"""The invite link as a QR picture to print, with the group's name under it."""

import numpy as np
import segno
from matplotlib.figure import Figure

from bot.pictures.cards import QrCard
from bot.pictures.paper import Paper

MODULE = 12
"""Pixels of a module's side: on a sheet of A4 still 90 dots to an inch, and squares stay square."""
QUIET_ZONE = 8
"""Light modules on every side: twice what the standard (ISO/IEC 18004) asks for, since posters get
frames and shadows."""
ERROR_CORRECTION = "q"
"""A quarter of it may be dirty or torn."""
LETTERS, LINE = 32, 42
"""Pixels: the size of the name, and how far its lines are apart."""
MOST_LINES = 3
DARK, LIGHT = 0, 255


def draw_qr(card: QrCard) -> Figure:
    """The picture: as wide as the code with its quiet zone, and higher by the name."""
    code = modules(card.link)
    side = (code.shape[0] + 2 * QUIET_ZONE) * MODULE
    paper = Paper(side)
    rows = paper.wrapped(card.name, LETTERS, side - 2 * QUIET_ZONE * MODULE)[:MOST_LINES]
    height = side + LINE * len(rows)
    sheet = np.full((height, side), LIGHT, dtype=np.uint8)
    edge = QUIET_ZONE * MODULE
    pixels = np.kron(code, np.ones((MODULE, MODULE), dtype=np.uint8))
    sheet[edge : side - edge, edge : side - edge] = np.where(pixels == 1, DARK, LIGHT)
    for at, row in enumerate(rows):
        paper.text(side / 2, side + LINE * at, row, LETTERS, bold=True, at="center")
    figure = paper.finished(height)
    figure.figimage(sheet[::-1], cmap="gray", vmin=DARK, vmax=LIGHT, origin="lower", zorder=-1)
    return figure


def modules(link: str) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    """The code itself, without a quiet zone: 1 where it's dark."""
    code = segno.make(link, error=ERROR_CORRECTION, micro=False, boost_error=False)
    return np.array([list(row) for row in code.matrix], dtype=np.uint8)
