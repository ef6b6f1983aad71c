"""The instructor's picture, for 3, 12 and 40 members and names of every length."""

import itertools

import pytest

from bot.pictures.cards import Cell, DigestCard, OptionRow, SpreadRow
from bot.pictures.digest import OPTIONS, SHAPES, WIDTH, draw_digest
from bot.pictures.paper import png, texts
from bot.pictures.scatter import heap
from tests.pictures.cards import LONG
from tests.pictures.looking import pixels, written_outside

NAMES = ("Ana", LONG, "W" * 64, "<b>$5$</b>", "مرحبا", "Jo")
CELLS = tuple(Cell)


def digest_card(members: int, movements: int = 6, *, days: int = 8, long: str = "") -> DigestCard:
    """A group of this size; every kind of square is somewhere in a large one."""
    names = tuple(NAMES[at] if at < len(NAMES) else f"Member {at}" for at in range(members))
    cells = tuple(
        tuple(CELLS[(at + day) % len(CELLS)] for day in range(days)) for at in range(members)
    )
    options = tuple(
        OptionRow(
            label=f"{number + 1} × 20 s, knees bent (4) {long}".rstrip(),
            at=float(number),
            members=tuple(number + at / 50 for at in range(number, members, 3)),
        )
        for number in range(3)
    )
    return DigestCard(
        title="The last classes",
        group="Harbour Hall strength",
        days=tuple(f"Thu, {day + 1} Sep" for day in range(days)),
        names=names,
        cells=cells,
        cell_labels=tuple((each, each.value) for each in SHAPES),
        spreads_title="Who can do how much",
        spreads=tuple(
            SpreadRow(name=f"Movement {at} {long}".rstrip(), options=options)
            for at in range(movements)
        ),
        person_label="one member each",
        option_label="where this option feels like 7",
    )


@pytest.mark.parametrize(
    "card",
    [
        pytest.param(digest_card(3), id="3"),
        pytest.param(digest_card(12), id="12"),
        pytest.param(digest_card(40, 0), id="40 in the table"),
        pytest.param(digest_card(0, 6), id="movements alone"),
        pytest.param(digest_card(1, 1, days=1), id="one of each"),
        pytest.param(digest_card(5, 2, long=LONG), id="long names"),
    ],
)
def test_everything_lies_on_the_sheet(card: DigestCard) -> None:
    assert written_outside(draw_digest(card)) == []


def test_every_member_and_every_day_is_named() -> None:
    card = digest_card(12)
    written = texts(draw_digest(card))
    for label in (*card.days, *card.names[6:], "Ana", "<b>$5$</b>", "مرحبا", card.person_label,
                  card.option_label, card.spreads_title, *(each.name for each in card.spreads),
                  *(label for _, label in card.cell_labels)):  # fmt: skip
        assert label in written


def test_forty_members_stay_readable_on_a_phone() -> None:
    height, width, _ = pixels(draw_digest(digest_card(40, 0))).shape
    assert width == WIDTH
    assert height <= 2400


def test_each_square_and_each_option_has_a_shape_of_its_own_or_a_shade() -> None:
    assert len(set(SHAPES.values())) == len(SHAPES) == len(Cell) - 1
    assert len({shape for shape, _ in OPTIONS}) == len(OPTIONS)


def test_a_square_of_somebody_who_had_not_begun_stays_empty() -> None:
    def ink(cell: Cell) -> int:
        card = digest_card(1, 0, days=1)
        return int((pixels(draw_digest(replaced(card, cell))) < 100).sum())

    assert ink(Cell.NOT_YET) < ink(Cell.SILENT) < ink(Cell.MAXIMAL)


def replaced(card: DigestCard, cell: Cell) -> DigestCard:
    """The card with another first square."""
    values = {name: getattr(card, name) for name in card.__slots__}
    return DigestCard(**(values | {"cells": ((cell,),)}))


def test_the_same_card_is_the_same_file() -> None:
    assert png(draw_digest(digest_card(3, 1))) == png(draw_digest(digest_card(3, 1)))


@pytest.mark.parametrize(
    "places", [[1.0] * 5, [0.0, 5.0, 9.0, 10.0, 11.0, 30.0], [30.0, 0.0, 20.0, 1.0]]
)
def test_no_mark_hides_another(places: list[float]) -> None:
    levels = heap(places, mark=10)
    for one, other in itertools.combinations(range(len(places)), 2):
        if levels[one] == levels[other]:
            assert abs(places[one] - places[other]) >= 10


def test_a_mark_with_room_lies_on_the_line() -> None:
    assert heap([0.0, 10.0, 25.0], mark=10) == [0, 0, 0]
