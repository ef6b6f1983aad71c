"""A sheet in pixels with letters, lines and marks; only here is the chart library known."""

from collections.abc import Sequence
from functools import cache
from io import BytesIO

from matplotlib import rc_context
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font
from matplotlib.patches import FancyBboxPatch, Rectangle
from matplotlib.patheffects import withStroke

DPI = 100  # pixels to the inch, so that a figure's inches are hundreds of pixels
POINT = 72 / DPI  # points to a pixel: the chart library sizes letters and marks in points

CARD = "#F3F1EA"
"""A card of its own, since a picture can't know whether the chat is light or dark."""
EDGE, GRID, QUIET, INK = "#8C8778", "#CFCBBE", "#5A564B", "#1B1F2A"
BLUE, SKY, ORANGE, BAND = "#00558C", "#9CC9E6", "#B34700", "#D5E4D9"
"""Blue and orange stay apart in every common kind of colour blindness; nothing is told by colour
alone, and dark to light they differ in print too."""

UNDATED = {"Creator": None, "Producer": None, "CreationDate": None}
"""Of a document: the same page always becomes the same bytes."""

_PLAIN = FontProperties(family="DejaVu Sans")
_BOLD = FontProperties(family="DejaVu Sans", weight="bold")


class Paper:
    """A sheet of a given width that is as high as it turns out to be; y grows downwards."""

    def __init__(self, width: int, ground: str = CARD) -> None:
        self.width = width
        self.figure = Figure(figsize=(width / DPI, width / DPI), dpi=DPI, facecolor=ground)
        canvas = FigureCanvasAgg(self.figure)
        self._measure: RendererAgg = canvas.get_renderer()  # type: ignore[no-untyped-call]
        self._axes = self.figure.add_axes((0, 0, 1, 1))
        self._axes.set_axis_off()
        self._axes.set_xlim(0, width)

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 28,
        *,
        bold: bool = False,
        color: str = INK,
        at: str = "left",
        turned: float = 0,
        halo: bool = False,
    ) -> None:
        """Letters whose middle is at this height; `size` in pixels."""
        if not text:
            return
        written = self._axes.text(
            x, y, drawable(text), size=size * POINT, color=color, ha=at, va="center_baseline",
            font=_font(bold), rotation=turned, rotation_mode="anchor",
            parse_math=False,  # names may hold dollar signs
        )  # fmt: skip
        if halo:  # so that they can be read on top of lines
            written.set_path_effects([withStroke(linewidth=6 * POINT, foreground=CARD)])

    def width_of(self, text: str, size: float, *, bold: bool = False) -> float:
        """How wide these letters are, in pixels."""
        if not text:
            return 0.0
        font = _font(bold).copy()
        font.set_size(size * POINT)
        width, _, _ = self._measure.get_text_width_height_descent(  # type: ignore[no-untyped-call]
            drawable(text), font, False
        )
        return float(width)

    def shortened(self, text: str, size: float, room: float, *, bold: bool = False) -> str:
        """The text, cut off with an ellipsis where it is wider than its room."""
        if self.width_of(text, size, bold=bold) <= room:
            return text
        low, high = 0, len(text)
        while low < high - 1:  # the longest beginning that fits, by halving
            half = (low + high) // 2
            fits = self.width_of(text[:half].rstrip() + "…", size, bold=bold) <= room
            low, high = (half, high) if fits else (low, half)
        return text[:low].rstrip() + "…"

    def wrapped(self, text: str, size: float, room: float) -> list[str]:
        """The text in lines that fit into this room."""
        rows: list[str] = []
        for word in text.split():
            longer = f"{rows[-1]} {word}" if rows else word
            if rows and self.width_of(longer, size) <= room:
                rows[-1] = longer
            else:
                rows.append(self.shortened(word, size, room))
        return rows

    def line(
        self,
        xs: Sequence[float],
        ys: Sequence[float],
        color: str = GRID,
        width: float = 2,
        *,
        dashed: bool = False,
        rounded: bool = False,
    ) -> None:
        """A line through these points; `width` in pixels."""
        self._axes.plot(
            xs, ys, color=color, linewidth=width * POINT, linestyle=(0, (4, 3)) if dashed else "-",
            solid_capstyle="round" if rounded else "butt",
        )  # fmt: skip

    def mark(self, x: float, y: float, shape: str, size: float, fill: str, edge: str = INK) -> None:
        """One of the chart library's markers, such as `o`, `^`, `v`, `D`; `size` in pixels."""
        self.marks([(x, y)], shape, size, fill, edge)

    def marks(
        self,
        points: Sequence[tuple[float, float]],
        shape: str,
        size: float,
        fill: str,
        edge: str = INK,
    ) -> None:
        """The same mark at many places: much faster than one by one."""
        self._axes.plot(
            [x for x, _ in points], [y for _, y in points], marker=shape, markersize=size * POINT,
            markerfacecolor=fill, markeredgecolor=edge, markeredgewidth=3 * POINT, linestyle="none",
        )  # fmt: skip

    def box(
        self, x: float, y: float, width: float, height: float, fill: str, *, hatch: str = "",
        edge: str = "none",
    ) -> None:  # fmt: skip
        """A filled rectangle from its upper left corner."""
        self._axes.add_patch(
            Rectangle((x, y), width, height, facecolor=fill, edgecolor=edge, hatch=hatch)
        )

    def cut(self, height: float) -> Figure:
        """The sheet, cut to its height."""
        self.figure.set_size_inches(self.width / DPI, round(height) / DPI)
        self._axes.set_ylim(round(height), 0)
        return self.figure

    def finished(self, height: float) -> Figure:
        """The sheet, cut to its height, with an edge that shows on white and on black."""
        self.cut(height)
        inset, round_by = 3, 22
        self._axes.add_patch(
            FancyBboxPatch(
                (inset + round_by, inset + round_by),
                self.width - 2 * (inset + round_by),
                round(height) - 2 * (inset + round_by),
                boxstyle=f"round,pad={round_by}",
                facecolor="none",
                edgecolor=EDGE,
                linewidth=3 * POINT,
            )
        )
        return self.figure


def png(figure: Figure) -> bytes:
    """The figure as a file; the same figure always becomes the same bytes."""
    file = BytesIO()
    figure.savefig(
        file, format="png", facecolor=figure.get_facecolor(), metadata={"Software": None}
    )
    return file.getvalue()


def pdf(figures: Sequence[Figure]) -> bytes:
    """The figures as the pages of a document, each in its true size, with letters as letters."""
    file = BytesIO()
    with rc_context({"pdf.fonttype": 42}), PdfPages(file, metadata=UNDATED) as pages:
        for figure in figures:
            pages.savefig(figure, facecolor=figure.get_facecolor())
    return file.getvalue()


def texts(figure: Figure) -> tuple[str, ...]:
    """Everything that is written on a figure, in the order in which it was written."""
    return tuple(text.get_text() for axes in figure.axes for text in axes.texts)


MISSING = "□"
"""For letters that the font doesn't have."""
JOINERS = frozenset("\u200d\ufe0e\ufe0f")
"""What turns several characters into one emoji."""


def drawable(text: str) -> str:
    """The text without pictures, and with a box for letters, that the font doesn't have."""
    known = _known_letters()
    kept = "".join(
        char if ord(char) in known else MISSING if char.isalnum() else ""
        for char in text
        if char not in JOINERS
    )
    return " ".join(kept.split()) or MISSING


@cache
def _known_letters() -> frozenset[int]:
    return frozenset(get_font(findfont(_PLAIN)).get_charmap())


def _font(bold: bool) -> FontProperties:
    return _BOLD if bold else _PLAIN
