"""Looking at figures: their points, and letters that would be cut off."""

from io import BytesIO

import numpy as np
from matplotlib.figure import Figure
from matplotlib.image import imread
from numpy.typing import NDArray

from bot.pictures.paper import png


def pixels(figure: Figure) -> NDArray[np.uint8]:
    """Every point of the figure: rows, columns, and red, green, blue and opacity."""
    file = BytesIO(png(figure))
    return np.asarray(np.rint(255 * imread(file, format="png")), dtype=np.uint8)


def written_outside(figure: Figure) -> list[str]:
    """What is written at least partly off the sheet."""
    png(figure)  # places are known once it is drawn
    sheet = figure.bbox
    found = []
    for axes in figure.axes:
        for text in axes.texts:
            box = text.get_window_extent()
            if box.x0 < 0 or box.y0 < 0 or box.x1 > sheet.x1 or box.y1 > sheet.y1:
                found.append(text.get_text())
    return found
