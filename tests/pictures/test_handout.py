"""The page to print: one page for forty people and twelve movements, and nothing cut off."""

import numpy as np
import pytest

from bot.pictures.cards import Direction, Handout, HandoutMovement, HandoutRow
from bot.pictures.handout import HEIGHT, WIDTH, draw_handout
from bot.pictures.paper import DPI, pdf, texts
from tests.pictures.cards import LONG
from tests.pictures.looking import pixels, written_outside

NAMES = ("Ana", LONG, "W" * 64, "<b>$5$</b>", "مرحبا", "Jo")
A4, LETTER = (8.27, 11.69), (8.5, 11.0)
"""Inches."""


def handout(members: int, movements: int, long: str = "") -> Handout:
    """A group of this size, with every kind of name and mark."""
    return Handout(
        title=f"Harbour Hall strength {long}".rstrip(),
        when="Thu, 3 Sep, 18:30",
        lines=("40 members expected", f"Last class: 7.5 in the middle. {long}", "For the room."),
        movements=tuple(
            HandoutMovement(
                name=f"Movement {at} {long}".rstrip(),
                options=(f"2 × 20 s, knees bent {long}".rstrip(), "2 × 30 s", "2 × 45 s"),
            )
            for at in range(movements)
        ),
        rows=tuple(
            HandoutRow(
                name=NAMES[at] if at < len(NAMES) else f"Member {at}",
                cells=tuple(
                    (None if (at + of) % 7 == 0 else of % 3 + 1, list(Direction)[(at * of) % 3])
                    for of in range(movements)
                ),
                note=f"pain, after a break {long}" if at % 5 == 0 else "",
            )
            for at in range(members)
        ),
        name_label="Name",
        note_label="To know",
        legend="The number is their option.",
    )


@pytest.mark.parametrize("long", ["", LONG])
@pytest.mark.parametrize(("members", "movements"), [(0, 1), (1, 1), (3, 3), (12, 6), (40, 12)])
def test_it_is_one_page_with_everything_on_it(members: int, movements: int, long: str) -> None:
    (page,) = draw_handout(handout(members, movements, long))
    assert written_outside(page) == []
    written = texts(page)
    assert all(f"Member {at}" in written for at in range(len(NAMES), members))
    assert all("ABCDEFGHIJKL"[at] in written for at in range(movements))


def test_a_larger_group_gets_a_second_page_with_the_rest() -> None:
    first, second = draw_handout(handout(60, 12))
    named = [*texts(first), *texts(second)]
    assert all(named.count(f"Member {at}") == 1 for at in range(len(NAMES), 60))


def test_both_a4_and_letter_paper_print_it_in_its_true_size() -> None:
    (page,) = draw_handout(handout(3, 3))
    width, height = page.get_size_inches()
    assert (width, height) == (WIDTH / DPI, HEIGHT / DPI)
    assert width <= min(A4[0], LETTER[0])
    assert height <= min(A4[1], LETTER[1])


def test_it_needs_no_colour() -> None:
    (page,) = draw_handout(handout(12, 6))
    seen = pixels(page)[..., :3].astype(int)
    assert np.all(np.ptp(seen, axis=2) < 24), "every point is close to a grey"
    assert seen.min() < 60
    assert seen.max() == 255


@pytest.mark.long
def test_the_same_page_is_the_same_document() -> None:
    once, twice = (pdf(draw_handout(handout(3, 2))) for _ in range(2))
    assert once == twice
    assert once.startswith(b"%PDF")
    assert pdf(draw_handout(handout(60, 12))).count(b"/Type /Page ") == 2
