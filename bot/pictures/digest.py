"""The instructor's picture: members by last classes, and the room against its options."""

from matplotlib.figure import Figure

from bot.pictures.cards import Cell, DigestCard, SpreadRow
from bot.pictures.paper import BLUE, CARD, GRID, INK, ORANGE, QUIET, SKY, Paper
from bot.pictures.scatter import heap

WIDTH = 1080  # pixels: three for each of a phone's 360
MARGIN = 56
SMALL, NORMAL, LARGE = 29, 31, 44
ROW = 46
"""Pixels of a member's row: forty of them still fit on one sheet."""
SQUARE = 76
"""Pixels of a column at most."""
SHAPES = {
    Cell.EASIER: ("v", SKY),
    Cell.AS_PLANNED: ("o", BLUE),
    Cell.HARDER: ("^", ORANGE),
    Cell.MAXIMAL: ("X", INK),
    Cell.UNRATED: ("o", CARD),
    Cell.ABSENT: ("_", CARD),
    Cell.SILENT: (".", INK),
}
"""Shape and fill; nothing at all for those who had never said anything."""
SIZES = {Cell.MAXIMAL: 32, Cell.SILENT: 10}
MARK, SMALL_MARK = 26, 20
"""Pixels that a member takes on a line, with the air around the mark."""
FEW = 16
"""Members up to which their marks are large."""
OPTIONS = (("v", SKY), ("o", BLUE), ("^", ORANGE))
"""The options of a movement, easiest first."""


def draw_digest(card: DigestCard) -> Figure:
    """The whole sheet; a part without rows is left out."""
    paper = Paper(WIDTH)
    room = WIDTH - 2 * MARGIN
    title = card.title if card.names else card.spreads_title
    paper.text(MARGIN, 70, paper.shortened(title, LARGE, room, bold=True), LARGE, bold=True)
    paper.text(MARGIN, 122, paper.shortened(card.group, NORMAL, room), NORMAL, color=QUIET)
    y = 176.0
    if card.names:
        y = _table(paper, card, y)
    if card.spreads:
        if card.names:
            y += 60
            head = paper.shortened(card.spreads_title, 36, room, bold=True)
            paper.text(MARGIN, y, head, 36, bold=True)
            y += 54
        y = _spreads(paper, card, y)
    return paper.finished(y + 36)


# --- members by last classes ----------------------------------------------------------------


def _table(paper: Paper, card: DigestCard, y: float) -> float:
    y = _cell_legend(paper, card, y)
    count = len(card.days)
    widest = max(paper.width_of(name, NORMAL) for name in card.names)
    least = min(widest + 30, WIDTH - 2 * MARGIN - 60 * count)  # room that is left beside names
    square = min(SQUARE, (WIDTH - 2 * MARGIN - least) / count)
    right = WIDTH - MARGIN
    left = right - square * count
    y = _days(paper, card, left, square, y + 44)
    points: dict[Cell, list[tuple[float, float]]] = {}
    for at, (name, cells) in enumerate(zip(card.names, card.cells, strict=True)):
        middle = y + ROW / 2
        if at % 2 == 0:  # stripes lead the eye along a row
            paper.box(MARGIN - 14, y, WIDTH - 2 * MARGIN + 28, ROW, "#E7E4DA")
        shown = paper.shortened(name, NORMAL, left - MARGIN - 16)
        paper.text(MARGIN, middle, shown, NORMAL)
        for column, cell in enumerate(cells):
            points.setdefault(cell, []).append((left + square * (column + 0.5), middle))
        y += ROW
    for cell, places in points.items():
        _cells(paper, cell, places)
    return y


def _days(paper: Paper, card: DigestCard, left: float, square: float, y: float) -> float:
    """Days on end, since they are wider than their columns."""
    longest = max(paper.width_of(day, 26) for day in card.days)
    for column, day in enumerate(card.days):
        x = left + square * (column + 0.5)
        paper.text(x + 9, y + longest, day, 26, color=QUIET, turned=90)
    return y + longest + 16


def _cells(paper: Paper, cell: Cell, places: list[tuple[float, float]]) -> None:
    if cell in SHAPES:
        shape, fill = SHAPES[cell]
        paper.marks(places, shape, SIZES.get(cell, 27), fill)


def _cell_legend(paper: Paper, card: DigestCard, y: float) -> float:
    x = float(MARGIN)
    for cell, label in card.cell_labels:
        said = paper.shortened(label, SMALL, WIDTH - 2 * MARGIN - 46)
        width = 46 + paper.width_of(said, SMALL)
        if x > MARGIN and x + width > WIDTH - MARGIN:
            x, y = MARGIN, y + 46
        _cells(paper, cell, [(x + 15, y)])
        paper.text(x + 44, y, said, SMALL)
        x += width + 26
    return y


# --- the room against its options -----------------------------------------------------------


def _spreads(paper: Paper, card: DigestCard, y: float) -> float:
    for at, (shape, fill) in enumerate(OPTIONS):
        paper.mark(MARGIN + 14 + 34 * at, y, shape, 24, fill)
    room = WIDTH - 2 * MARGIN - 130
    for at, line in enumerate(paper.wrapped(card.person_label, SMALL, room)):
        y += 40 if at else 0
        paper.text(MARGIN + 120, y, line, SMALL)
    for at, line in enumerate(paper.wrapped(card.option_label, SMALL, room)):
        y += 40 if at else 48
        if at == 0:
            _post(paper, MARGIN + 48, y - 14, 1)
        paper.text(MARGIN + 120, y, line, SMALL)
    y += 12
    for row in card.spreads:
        y = _spread(paper, row, y + 54)
    return y


def _spread(paper: Paper, row: SpreadRow, y: float) -> float:
    room = WIDTH - 2 * MARGIN
    paper.text(MARGIN, y, paper.shortened(row.name, NORMAL, room, bold=True), NORMAL, bold=True)
    known = [at for option in row.options for at in (option.at, *option.members)]
    low, high = min(known, default=0.0), max(known, default=0.0)
    left, right = MARGIN + 24, WIDTH - MARGIN - 24

    def place(position: float) -> float:
        if high <= low:
            return (left + right) / 2
        return left + (right - left) * (position - low) / (high - low)

    people = [(place(at), option) for option, each in enumerate(row.options) for at in each.members]
    mark = MARK if len(people) <= FEW else SMALL_MARK
    levels = heap([x for x, _ in people], mark)
    line = y + 32 + mark * max(levels, default=0) + mark
    paper.line([MARGIN, WIDTH - MARGIN], [line + 18] * 2, GRID, 6)
    for option, (shape, fill) in enumerate(OPTIONS):
        points = [
            (x, line - mark * level)
            for (x, of), level in zip(people, levels, strict=True)
            if min(of, len(OPTIONS) - 1) == option
        ]
        paper.marks(points, shape, mark - 6, fill)
    for number, option_row in enumerate(row.options, 1):
        _post(paper, place(option_row.at), line + 18, number)
    return _option_legend(paper, row, line + 80)


def _post(paper: Paper, x: float, y: float, number: int) -> None:
    """Where an option is exactly the target."""
    paper.line([x, x], [y - 10, y + 16], INK, 4)
    paper.text(x, y + 30, str(number), 25, bold=True, at="center", halo=True)


def _option_legend(paper: Paper, row: SpreadRow, y: float) -> float:
    x, room = float(MARGIN), WIDTH - 2 * MARGIN
    for at, option in enumerate(row.options):
        label = paper.shortened(option.label, 28, room - 70)
        width = 66 + paper.width_of(label, 28)
        if x > MARGIN and x + width > WIDTH - MARGIN:
            x, y = MARGIN, y + 40
        shape, fill = OPTIONS[min(at, len(OPTIONS) - 1)]
        paper.text(x, y, str(at + 1), 26, bold=True)
        paper.mark(x + 38, y, shape, 20, fill)
        paper.text(x + 60, y, label, 28)
        x += width + 24
    return y + 6
