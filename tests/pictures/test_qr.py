"""The picture of a link holds exactly the link's code, with room around it and a name below."""

from io import BytesIO

import numpy as np
import pytest
import segno
from matplotlib import image
from numpy.typing import NDArray

from bot.pictures.cards import QrCard
from bot.pictures.paper import texts
from bot.pictures.qr import MODULE, QUIET_ZONE, draw_qr
from bot.pictures.render import rendered

LINK = "https://t.me/class_effort_bot?start=abcdefghijklmnopqrstuv"
STANDARD_QUIET_ZONE = 4
"""Modules, by ISO/IEC 18004."""


def code_of(link: str) -> NDArray[np.bool_]:
    """The code as the library makes it: true where it's dark."""
    code = segno.make(link, error="q", micro=False, boost_error=False)
    return np.array([list(row) for row in code.matrix], dtype=np.bool_)


async def pixels(name: str, link: str = LINK) -> NDArray[np.float64]:
    """The picture as greys from 0, dark, to 1, as they are in the file."""
    png = await rendered(QrCard(link=link, name=name))
    read: NDArray[np.float64] = np.asarray(image.imread(BytesIO(png), format="png"), dtype=float)
    return np.asarray(read[:, :, :3].mean(axis=2), dtype=np.float64)


@pytest.mark.parametrize("link", [LINK, "https://t.me/b?start=" + "Z" * 22])
async def test_every_module_of_the_code_is_in_the_file(link: str) -> None:
    """Each module is one flat square: sampled at its middle and near its corners."""
    picture, code = await pixels("Harbour Hall", link), code_of(link)
    for at in (1, MODULE // 2, MODULE - 2):
        places = (QUIET_ZONE + np.arange(len(code))) * MODULE + at
        assert np.array_equal(picture[np.ix_(places, places)] < 0.5, code)
    first, last = QUIET_ZONE * MODULE, (QUIET_ZONE + len(code)) * MODULE
    assert set(np.unique(picture[first:last, first:last])) == {0.0, 1.0}, "nothing is blurred"


@pytest.mark.parametrize("name", ["X", "Harbour Hall strength", "W" * 64, "מרים " * 12, "💪" * 64])
async def test_nothing_comes_near_the_code(name: str) -> None:
    picture, code = await pixels(name), code_of(LINK)
    side, free = len(code) * MODULE, STANDARD_QUIET_ZONE * MODULE
    first, last = QUIET_ZONE * MODULE - free, QUIET_ZONE * MODULE + side + free
    around = picture[first:last, first:last].copy()
    around[free:-free, free:-free] = 1.0
    assert around.min() == 1.0


@pytest.mark.parametrize(
    ("name", "lines"),
    [("Harbour Hall", 1), ("Strength and mobility for everybody, Thursdays and Saturdays", 3)],
)
def test_the_name_stands_below(name: str, lines: int) -> None:
    written = texts(draw_qr(QrCard(link=LINK, name=name)))
    assert " ".join(written) == name
    assert len(written) == lines


def test_the_code_can_be_read_when_a_part_is_torn() -> None:
    """A quarter of the codewords may be lost: level Q."""
    assert segno.make(LINK, error="q", boost_error=False).error == "Q"
