"""A member's picture: everything is labelled, fits on a phone, and is the same every time."""

import itertools

import numpy as np
import pytest
from matplotlib.figure import Figure

from bot.pictures.cards import Against, ProgressCard
from bot.pictures.paper import CARD, png, texts
from bot.pictures.progress import MOST_NUMBERED, SHAPES, WIDTH, apart, draw_progress
from tests.pictures.cards import LONG, mark, progress_card, row
from tests.pictures.looking import pixels, written_outside


def test_all_labels_are_on_it() -> None:
    card = progress_card(note="There is no room here for 2 more movements.")
    written = texts(draw_progress(card))
    for label in (
        "Your progress", "Harbour Hall strength", "How hard your classes were", "as planned",
        "harder", "easier", "aimed at: 6 to 8", "What you can do", "now, and how sure that is",
        "when you began", "where a step feels like 7", "Side plank", "feet stacked",
        "about 38 s (31 to 46)", "knees bent", "top leg raised", "Thu, 3 Sep", "Thu, 17 Sep",
        "There is no room here for 2 more movements.",
    ):  # fmt: skip
        assert label in written


def test_the_scale_is_named_in_the_numbers_that_the_person_rates_with() -> None:
    card = progress_card(scale=((0.0, "6"), (5.0, "15"), (10.0, "20")))
    written = texts(draw_progress(card))
    assert {"6", "15", "20"} <= set(written)
    assert "0" not in written


def test_nothing_is_said_of_a_beginning_where_none_is_known() -> None:
    written = texts(draw_progress(progress_card(standings=(row(began=None),))))
    assert "when you began" not in written


def test_a_member_without_standings_sees_the_classes_alone() -> None:
    written = texts(draw_progress(progress_card(standings=())))
    assert "What you can do" not in written
    assert "as planned" in written


def test_a_few_classes_have_their_numbers_beside_them_and_many_do_not() -> None:
    few = progress_card(ratings=(mark(6.5),) * MOST_NUMBERED)
    many = progress_card(ratings=(mark(6.5),) * (MOST_NUMBERED + 1))
    assert texts(draw_progress(few)).count("6.5") == MOST_NUMBERED
    assert "6.5" not in texts(draw_progress(many))


@pytest.mark.parametrize(
    "card",
    [
        pytest.param(progress_card(), id="usual"),
        pytest.param(progress_card(ratings=(mark(0), mark(10), mark(10))), id="the scale's ends"),
        pytest.param(progress_card(ratings=(mark(7, "Mittwoch, 23. September"),) * 20), id="days"),
        pytest.param(
            progress_card(standings=tuple(row(f"Movement {n}") for n in range(6))), id="six"
        ),
        pytest.param(
            progress_card(
                title=LONG, group=LONG, range_label=LONG, now_label=LONG, began_label=LONG,
                step_label=f"{LONG} {LONG} {LONG}", note=f"{LONG} {LONG}",
                standings=(
                    row(
                        LONG, variation=LONG, amounts=LONG,
                        steps=tuple((LONG, 3 + step / 100) for step in range(8)),
                    ),
                ),
            ),
            id="long names",
        ),
        pytest.param(progress_card(group="W" * 64, standings=(row("W" * 64),)), id="wide letters"),
    ],
)  # fmt: skip
def test_every_letter_lies_on_the_sheet(card: ProgressCard) -> None:
    assert written_outside(draw_progress(card)) == []


def test_it_fits_a_phone() -> None:
    usual = draw_progress(progress_card(standings=tuple(row(f"No. {n}") for n in range(6))))
    height, width, _ = pixels(usual).shape
    assert width == WIDTH == 3 * 360
    assert height <= 2200


def test_it_is_not_blank_and_its_background_is_its_own() -> None:
    seen = pixels(draw_progress(progress_card()))
    card = tuple(int(CARD[at : at + 2], 16) for at in (1, 3, 5))
    assert tuple(seen[12, WIDTH // 2]) == (*card, 255)
    assert 0.03 < float(np.mean(np.any(seen[:, :, :3] != card, axis=2))) < 0.5


def test_the_three_kinds_of_classes_differ_without_colour() -> None:
    assert len({shape for shape, _ in SHAPES.values()}) == len(Against)


def test_the_same_card_is_the_same_file() -> None:
    assert png(draw_progress(progress_card())) == png(draw_progress(progress_card()))


def test_names_mean_nothing_but_themselves() -> None:
    name = r"5 $ or 6 $ <b>\alpha</b> & %s {x}"
    written = texts(draw_progress(progress_card(standings=(row(name),))))
    assert name in written


def test_letters_without_a_picture_in_the_font_are_shown_as_boxes_and_emoji_left_out() -> None:
    figure: Figure = draw_progress(progress_card(group="树 Yoga 🧘‍♀️ club"))
    assert "□ Yoga ♀ club" in texts(figure)
    png(figure)  # and no letter is missed while drawing: that would be a warning


def test_a_line_that_is_all_doubt_is_not_filled_by_it() -> None:
    alone = row(steps=(("only", 3.6),), variation=None, began=None)
    seen = pixels(draw_progress(progress_card(standings=(alone,))))
    bar = np.all(seen[:, :, :3] == (0x9C, 0xC9, 0xE6), axis=2)
    assert bar.sum(axis=1).max() < 0.5 * WIDTH


@pytest.mark.parametrize("places", [[0.0, 0.0, 0.0], [5.0, 1.0, 3.0], [0.0, 100.0, 101.0], [50.0]])
def test_numbers_are_moved_apart_in_their_order_and_stay_on_the_sheet(places: list[float]) -> None:
    moved = apart(places, 10, 0, 100)
    gaps = [b - a for a, b in itertools.pairwise(sorted(moved))]
    assert all(gap >= 10 - 1e-9 for gap in gaps)
    assert all(0 <= each <= 100 for each in moved)
    for one, other in itertools.combinations(range(len(places)), 2):
        if places[one] < places[other]:
            assert moved[one] < moved[other]


def test_numbers_with_room_stay_where_they_are() -> None:
    assert apart([10.0, 50.0, 80.0], 10, 0, 100) == [10.0, 50.0, 80.0]
