"""A member's picture: rated classes against the range aimed at, and where they stand."""

from itertools import pairwise

from matplotlib.figure import Figure

from bot.pictures.cards import Against, ProgressCard, RatingMark, StandingRow
from bot.pictures.paper import BAND, BLUE, CARD, GRID, INK, ORANGE, QUIET, SKY, Paper

WIDTH = 1080  # pixels: three for each of a phone's 360
MARGIN = 56
LEFT, RIGHT = 118, WIDTH - 64
"""Where the classes lie; further left stand the numbers of the scale."""
SCALE_HEIGHT = 330
SMALL, NORMAL, LARGE = 29, 32, 44
"""Letters; a third of it on a phone's width, so not below 28."""
MOST_NUMBERED = 12
"""Classes up to which each has its number beside it."""
MOST_DAYS = 4
SHORTEST = 2.5
"""Length of a movement's line at least, in widths of what is likely."""
SHAPES = {
    Against.BELOW: ("v", SKY),
    Against.WITHIN: ("o", BLUE),
    Against.ABOVE: ("^", ORANGE),
}


def draw_progress(card: ProgressCard) -> Figure:
    """The whole card."""
    paper = Paper(WIDTH)
    paper.text(MARGIN, 70, paper.shortened(card.title, LARGE, 980, bold=True), LARGE, bold=True)
    paper.text(MARGIN, 122, paper.shortened(card.group, NORMAL, 960), NORMAL, color=QUIET)
    y = _ratings(paper, card, 190)
    if card.standings:
        y = _standings(paper, card, y + 36)
    if card.note is not None:
        y += 6
        for line in paper.wrapped(card.note, SMALL, WIDTH - 2 * MARGIN):
            y += 42
            paper.text(MARGIN, y, line, SMALL, color=QUIET)
    return paper.finished(y + 44)


# --- rated classes --------------------------------------------------------------------------


def _ratings(paper: Paper, card: ProgressCard, y: float) -> float:
    paper.text(MARGIN, y, card.ratings_title, 36, bold=True)
    y = _legend(paper, card, y + 56)
    top = y + 58

    def height(effort: float) -> float:
        return top + SCALE_HEIGHT * (1 - effort / 10)

    paper.box(LEFT, height(card.high), RIGHT - LEFT, height(card.low) - height(card.high), BAND)
    for effort, label in card.scale:
        paper.line([LEFT, RIGHT], [height(effort)] * 2)
        paper.text(LEFT - 22, height(effort), label, SMALL, color=QUIET, at="right")
    for effort_at in (card.low, card.high):
        paper.line([LEFT, RIGHT], [height(effort_at)] * 2, INK, 2, dashed=True)
    places = _places(len(card.ratings))
    points = [(x, height(each.effort)) for x, each in zip(places, card.ratings, strict=True)]
    for (one, other), mark in zip(pairwise(points), card.ratings[1:], strict=True):
        if not mark.after_break:
            paper.line([one[0], other[0]], [one[1], other[1]], QUIET, 3)
    for (x, at), mark in zip(points, card.ratings, strict=True):
        _rating(paper, mark, x, at, numbered=len(points) <= MOST_NUMBERED)
    _days(paper, card.ratings, places, top + SCALE_HEIGHT + 40)
    return top + SCALE_HEIGHT + 66


def _legend(paper: Paper, card: ProgressCard, y: float) -> float:
    """The shapes with their words, in as many rows as they need."""
    x = float(MARGIN)
    for against, label in (*card.against_labels, (None, card.range_label)):
        width = 56 + paper.width_of(label, SMALL)
        if x > MARGIN and x + width > WIDTH - MARGIN:
            x, y = MARGIN, y + 46
        if against is None:
            paper.box(x, y - 14, 34, 28, BAND)
            paper.line([x, x + 34], [y - 14] * 2, INK, 2, dashed=True)
            paper.line([x, x + 34], [y + 14] * 2, INK, 2, dashed=True)
        else:
            shape, fill = SHAPES[against]
            paper.mark(x + 15, y, shape, 24, fill)
        room = WIDTH - MARGIN - x - 46
        paper.text(x + 46, y, paper.shortened(label, SMALL, room), SMALL)
        x += width + 28
    return y


def _places(count: int) -> list[float]:
    """Classes stand side by side: days would press a busy month together."""
    inset = 34
    if count == 1:
        return [(LEFT + RIGHT) / 2]
    gap = (RIGHT - LEFT - 2 * inset) / (count - 1)
    return [LEFT + inset + gap * place for place in range(count)]


def _rating(paper: Paper, mark: RatingMark, x: float, y: float, *, numbered: bool) -> None:
    shape, fill = SHAPES[mark.against]
    paper.mark(x, y, shape, 28, fill)
    if numbered:
        above = -36 if mark.effort < 9 else 38
        paper.text(x, y + above, mark.number, 26, at="center", halo=True)


def _days(paper: Paper, ratings: tuple[RatingMark, ...], places: list[float], y: float) -> None:
    """The first and the last day, and as many between them as there is room for."""
    last = len(ratings) - 1
    widest = max(paper.width_of(each.day, 26) for each in ratings) + 30
    most = max(2, min(MOST_DAYS, int((RIGHT - LEFT) // widest)))
    shown = sorted({round(last * part / (most - 1)) for part in range(most)})
    for at in shown:
        side = "left" if at == 0 and last else "right" if at == last and last else "center"
        x = places[at] + {"left": -28, "right": 28, "center": 0}[side]
        paper.text(x, y, ratings[at].day, 26, color=QUIET, at=side)


# --- where they stand -----------------------------------------------------------------------


def _standings(paper: Paper, card: ProgressCard, y: float) -> float:
    paper.text(MARGIN, y, card.standings_title, 36, bold=True)
    y += 54
    paper.line([MARGIN + 10, MARGIN + 40], [y] * 2, SKY, 20, rounded=True)
    paper.mark(MARGIN + 25, y, "o", 24, BLUE)
    now = paper.shortened(card.now_label, SMALL, WIDTH - 2 * MARGIN - 70)
    paper.text(MARGIN + 70, y, now, SMALL)
    if any(row.began is not None for row in card.standings):
        began = paper.shortened(card.began_label, SMALL, WIDTH - 2 * MARGIN - 70)
        x = MARGIN + 70 + paper.width_of(now, SMALL) + 60
        if x + 28 + paper.width_of(began, SMALL) > WIDTH - MARGIN:
            x, y = MARGIN + 25, y + 46
        paper.mark(x, y, "D", 19, CARD)
        paper.text(max(x + 28, MARGIN + 70), y, began, SMALL)
    for at, line in enumerate(paper.wrapped(card.step_label, SMALL, WIDTH - 2 * MARGIN - 70)):
        y += 46 if at == 0 else 40
        if at == 0:
            _numbered(paper, MARGIN + 25, y, 1)
        paper.text(MARGIN + 70, y, line, SMALL)
    y += 16
    for row in card.standings:
        y = _row(paper, row, y + 54)
    return y


def _row(paper: Paper, row: StandingRow, y: float) -> float:
    room = WIDTH - 2 * MARGIN
    name = paper.shortened(row.name, NORMAL, room, bold=True)
    end = paper.width_of(name, NORMAL, bold=True) + 22
    variation = paper.shortened(row.variation or "", SMALL, room)
    amounts = paper.shortened(row.amounts, SMALL, room)
    widths = paper.width_of(variation, SMALL), paper.width_of(amounts, SMALL)
    paper.text(MARGIN, y, name, NORMAL, bold=True)
    if end + sum(widths) + 30 > room:  # names are long: a line of its own for each
        x, y = (MARGIN + end, y) if end + widths[0] <= room else (MARGIN, y + 40)
        paper.text(x, y, variation, SMALL)
        paper.text(MARGIN, y + 40, amounts, SMALL)
        y += 40
    else:
        paper.text(MARGIN + end, y, variation, SMALL)
        paper.text(WIDTH - MARGIN, y, amounts, SMALL, at="right")
    y = _strip(paper, row, y + 42)
    return _ladder(paper, row, y) if len(row.steps) > 1 else y


def _ladder(paper: Paper, row: StandingRow, y: float) -> float:
    """What the numbers mean, in as many lines as that takes."""
    x, room = float(MARGIN), WIDTH - 2 * MARGIN
    for number, (name, _) in enumerate(row.steps, 1):
        label = paper.shortened(name, 28, room / 2 - 60)
        width = 30 + paper.width_of(label, 28)
        if x > MARGIN and x + width > WIDTH - MARGIN:
            x, y = MARGIN, y + 38
        paper.text(x, y + 36, str(number), 26, bold=True, color=QUIET)
        paper.text(x + 26, y + 36, label, 28, color=QUIET)
        x += width + 26
    return y + 40


def _strip(paper: Paper, row: StandingRow, y: float) -> float:
    """The ladder as a line with numbered marks under it, and the belief upon it."""
    known = [row.low, row.high, *(at for _, at in row.steps)]
    known += [] if row.began is None else [row.began]
    low, high = _ends(known, row.high - row.low)
    left, right = MARGIN + 24, WIDTH - MARGIN - 24

    def place(position: float) -> float:
        return left + (right - left) * (position - low) / ((high - low) or 1.0)

    paper.line([MARGIN, WIDTH - MARGIN], [y] * 2, GRID, 6)
    paper.line([place(row.low), place(row.high)], [y] * 2, SKY, 22, rounded=True)
    ticks = [place(at) for _, at in row.steps]
    labels = apart(ticks, 46, MARGIN + 20, WIDTH - MARGIN - 20)
    for number, (tick, label) in enumerate(zip(ticks, labels, strict=True), 1):
        paper.line([tick, tick, label], [y - 15, y + 18, y + 34], INK, 3)
        _numbered(paper, label, y + 48, number)
    if row.began is not None:
        paper.mark(place(row.began), y, "D", 19, CARD)
    paper.mark(place(row.middle), y, "o", 26, BLUE)
    return y + 66


def _ends(known: list[float], width: float) -> tuple[float, float]:
    """Ends of a line that has all of it, and is never so short that a likely range fills it."""
    low, high = min(known), max(known)
    more = max(SHORTEST * width - (high - low), 0.0) / 2
    return low - more, high + more


def _numbered(paper: Paper, x: float, y: float, number: int) -> None:
    paper.mark(x, y, "o", 38, CARD)
    paper.text(x, y, str(number), 25, bold=True, at="center")


def apart(places: list[float], gap: float, low: float, high: float) -> list[float]:
    """The places moved as little as needed to stand at least `gap` apart, in the same order.

    Neighbours that are too close share the move (pooled, as in isotonic regression).
    """
    order = sorted(range(len(places)), key=lambda at: places[at])
    pools: list[list[float]] = []  # each the wished-for first places of neighbours that touch
    for rank, at in enumerate(order):
        pools.append([places[at] - rank * gap])
        while len(pools) > 1 and _mean(pools[-2]) > _mean(pools[-1]):
            pools[-2:] = [pools[-2] + pools[-1]]
    first = [_mean(pool) for pool in pools for _ in pool]
    last = len(places) - 1
    moved = [min(max(each, low), high - last * gap) for each in first]
    found = [0.0] * len(places)
    for rank, at in enumerate(order):
        found[at] = moved[rank] + rank * gap
    return found


def _mean(numbers: list[float]) -> float:
    return sum(numbers) / len(numbers)
