"""The page to print: options and who does which, in black on white, for A4 and letter paper."""

from matplotlib.figure import Figure

from bot.pictures.cards import Handout, HandoutMovement, HandoutRow
from bot.pictures.paper import INK, QUIET, Paper

WIDTH, HEIGHT = 827, 1100
"""Hundredths of an inch: as wide as A4 and as high as letter, so that both print it unscaled."""
MARGIN = 47
WHITE, STRIPE, RULE = "#FFFFFF", "#ECECEC", "#777777"
TINY, SMALL, NORMAL, LARGE = 10.5, 12, 14, 22
"""Hundredths of an inch; 10.5 are 7.6 points."""
LEGEND_LINE = 14.5
HIGHEST, LOWEST = 25.0, 12.5
"""Of a member's line; who doesn't fit at the lowest is on a second page."""
FOOT = 24
FEW_MOVEMENTS, GAP = 6, 16
CELL, MOST_CELL = 27, 44
NAME, NOTE = 230, 150
"""Room for a name, and for what there is to know."""
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
"""What columns are called."""


def draw_handout(card: Handout) -> list[Figure]:
    """One page for forty members and twelve movements; another for whom it can't hold."""
    pages: list[Figure] = []
    left = card.rows
    while left or not pages:
        paper = Paper(WIDTH, WHITE)
        y = _movements(paper, card.movements, _head(paper, card)) + 10
        fitting = max(int((HEIGHT - MARGIN - FOOT - y) / LOWEST), 1)
        _table(paper, card, left[:fitting], y)
        pages.append(paper.cut(HEIGHT))
        left = left[fitting:]
    return pages


def _head(paper: Paper, card: Handout) -> float:
    room = WIDTH - 2 * MARGIN
    paper.text(MARGIN, 56, paper.shortened(card.title, LARGE, room, bold=True), LARGE, bold=True)
    paper.text(MARGIN, 80, paper.shortened(card.when, NORMAL, room), NORMAL)
    y = 88.0
    for line in card.lines:
        for part in paper.wrapped(line, TINY, room):
            y += LEGEND_LINE
            paper.text(MARGIN, y, part, TINY)
    return y + 22


def _movements(paper: Paper, movements: tuple[HandoutMovement, ...], y: float) -> float:
    """In two or three columns, balanced by lines; returns where the longest ends."""
    columns = 2 if len(movements) <= FEW_MOVEMENTS else 3
    width = (WIDTH - 2 * MARGIN - GAP * (columns - 1)) / columns
    each_column = sum(1 + len(each.options) for each in movements) / columns
    top, lowest, used, column = y, y, 0, 0
    for letter, each in zip(LETTERS, movements, strict=False):
        if used >= each_column * (column + 1) - 0.5:
            column, y = column + 1, top
        x = MARGIN + (width + GAP) * column
        paper.text(x, y, letter, SMALL, bold=True)
        name = paper.shortened(each.name, SMALL, width - 16, bold=True)
        paper.text(x + 16, y, name, SMALL, bold=True)
        for number, option in enumerate(each.options, 1):
            y += LEGEND_LINE
            paper.text(x + 16, y, str(number), TINY, bold=True)
            paper.text(x + 28, y, paper.shortened(option, TINY, width - 28), TINY)
        used += 1 + len(each.options)
        y += LEGEND_LINE + 5
        lowest = max(lowest, y)
    return lowest


def _table(paper: Paper, card: Handout, rows: tuple[HandoutRow, ...], y: float) -> None:
    count = max(len(card.movements), 1)
    right = WIDTH - MARGIN
    cell = min(MOST_CELL, max(CELL, 330 / count))
    spare = right - MARGIN - NAME - cell * count
    note = min(max(spare, NOTE), 1.7 * NOTE) if any(row.note for row in card.rows) else 0.0
    left = right - note - cell * count
    paper.text(MARGIN, y, paper.shortened(card.name_label, TINY, left - MARGIN), TINY, color=QUIET)
    for column in range(len(card.movements)):
        x = left + cell * (column + 0.5)
        paper.text(x, y, LETTERS[column % len(LETTERS)], SMALL, bold=True, at="center")
    if note:
        shown = paper.shortened(card.note_label, TINY, note - 8)
        paper.text(right - note + 8, y, shown, TINY, color=QUIET)
    y += 10
    paper.line([MARGIN, right], [y, y], RULE, 1)
    height = min(HIGHEST, max(LOWEST, (HEIGHT - MARGIN - FOOT - y) / max(len(rows), 1)))
    size = min(NORMAL, 0.78 * height)
    for at, row in enumerate(rows):
        if at % 2 == 0:
            paper.box(MARGIN, y, right - MARGIN, height, STRIPE)
        _row(paper, row, y + height / 2, size, left, cell, right - note)
        y += height
    paper.line([MARGIN, right], [y, y], RULE, 1)
    paper.text(MARGIN, y + 12, paper.shortened(card.legend, TINY, right - MARGIN), TINY)


def _row(
    paper: Paper, row: HandoutRow, y: float, size: float, left: float, cell: float, note: float
) -> None:
    paper.text(MARGIN + 3, y, paper.shortened(row.name, size, left - MARGIN - 9), size)
    for column, (number, direction) in enumerate(row.cells):
        x = left + cell * (column + 0.5)
        said = "–" if number is None else f"{number}{direction.value}"
        paper.text(x, y, said, size, bold=bool(direction.value), at="center", color=INK)
    if row.note:
        shown = paper.shortened(row.note, size * 0.9, WIDTH - MARGIN - note - 10)
        paper.text(note + 8, y, shown, size * 0.9)
