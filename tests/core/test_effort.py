"""The scale means the same everywhere, and agrees with what was published."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core import effort

ratings = st.floats(0, 10)


@pytest.mark.parametrize(
    ("rating", "word"),
    [
        (0, "nothing"),
        (2.5, "easy"),
        (5, "hard"),
        (6, "hard"),
        (7, "very hard but in control"),
        (8, "very hard but in control"),
        (9.5, "almost nothing left"),
        (10, "could not have done one more"),
    ],
)
def test_a_rating_has_the_word_of_the_nearest_point_not_above_it(rating: float, word: str) -> None:
    assert effort.word(rating) == word


@given(ratings, ratings)
def test_a_higher_rating_never_has_a_milder_word(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert effort.anchor(low) <= effort.anchor(high)


@pytest.mark.parametrize(
    ("rating", "band"),
    [(4, "light"), (5, "moderate"), (6, "moderate"), (7, "vigorous"), (8, "vigorous")],
)
def test_bands_are_those_of_the_public_guideline(rating: float, band: str) -> None:
    """Physical Activity Guidelines for Americans, 2nd ed. (2018): 5-6 moderate, 7-8 vigorous."""
    assert effort.band(rating) == band


@pytest.mark.parametrize(
    ("rating", "met"), [(5.9, False), (6, True), (7, True), (8, True), (8.1, False)]
)
def test_a_point_either_side_of_the_target_is_in_range(rating: float, met: bool) -> None:
    assert effort.in_range(rating, 7) is met


@pytest.mark.parametrize(
    ("typed", "rating"),
    [
        ("7", 7),
        (" 7 ", 7),
        ("7.5", 7.5),
        ("7,5", 7.5),
        ("7/10", 7),
        ("7 / 10", 7),
        ("70 %", 7),
        ("75%", 7.5),
        ("7.25", 7.2),
        ("10", 10),
        ("0", 0),
        ("\uff17", 7),
        ("٧٫٥", 7.5),
        ("7\ufe0f\u20e3", 7),
    ],
)
def test_a_rating_is_read_as_people_type_it(typed: str, rating: float) -> None:
    assert effort.read_rating(typed) == rating


@pytest.mark.parametrize(
    "typed",
    ["", "seven", "7 or 8", "7-8", "11", "-1", "10.1", "101 %", "14/20", "nan", "1e1", "7/10 %"],
)
def test_anything_else_is_no_rating(typed: str) -> None:
    assert effort.read_rating(typed) is None


@given(st.text())
def test_whatever_is_typed_the_reading_is_on_the_scale_or_nothing(typed: str) -> None:
    rating = effort.read_rating(typed)
    assert rating is None or 0 <= rating <= 10


@given(st.integers(0, 100).map(lambda tenths: tenths / 10))
def test_a_rating_written_out_is_read_back(rating: float) -> None:
    assert effort.read_rating(f"{rating:.1f}") == rating
    assert effort.read_rating(f"{rating:.1f}/10") == rating
    assert effort.read_rating(f"{rating * 10:.0f} %") == rating


@pytest.mark.parametrize(("typed", "rating"), [("6", 0), ("15", 5), ("17/20", 7), ("20", 10)])
def test_six_to_twenty_is_read_by_words(typed: str, rating: float) -> None:
    assert effort.read_rating_6_20(typed) == rating


@pytest.mark.parametrize("typed", ["5", "21", "7/10", "70 %", "hard"])
def test_six_to_twenty_refuses_the_other_scale(typed: str) -> None:
    assert effort.read_rating_6_20(typed) is None


@pytest.mark.parametrize(
    ("ours", "theirs"), [(0, 6), (4, 13), (5, 15), (7, 17), (9, 19), (10, 20), (-1, 6), (11, 20)]
)
def test_the_scales_meet_where_their_words_agree(ours: float, theirs: float) -> None:
    """13 somewhat hard, 15 hard, 17 very hard, 19 extremely hard, 20 maximal (Borg 1998)."""
    assert effort.to_6_20(ours) == theirs


@given(ratings, ratings)
def test_going_to_the_other_scale_and_back_changes_nothing(one: float, other: float) -> None:
    assert effort.from_6_20(effort.to_6_20(one)) == pytest.approx(one)
    low, high = sorted((one, other))
    assert effort.to_6_20(low) <= effort.to_6_20(high)


@pytest.mark.parametrize(
    ("cr10", "borg"), [(1, 8.11), (3, 12.14), (5, 15.51), (7, 18.58), (10, 20), (0, 6)]
)
def test_the_category_ratio_conversion_gives_its_published_values(cr10: float, borg: float) -> None:
    """6 + 2.8 (CR10 - 0.3)^0.79, E. Borg."""
    assert effort.borg_from_cr10(cr10) == pytest.approx(borg, abs=0.005)


@given(st.floats(0.3, 8.0))
def test_the_category_ratio_conversion_is_undone_below_its_clamp(cr10: float) -> None:
    if effort.borg_from_cr10(cr10) < 20:
        assert effort.cr10_from_borg(effort.borg_from_cr10(cr10)) == pytest.approx(cr10)


@pytest.mark.parametrize(("rating", "beats"), [(6, 60), (12, 120), (14, 140), (20, 200)])
def test_the_heart_beats_about_ten_times_the_six_to_twenty_rating(
    rating: float, beats: float
) -> None:
    """12 is 120 beats a minute, "only an approximation" (American Heart Association)."""
    assert effort.heart_rate(rating) == beats


@pytest.mark.parametrize(("age", "fox", "tanaka"), [(20, 200, 194), (40, 180, 180), (60, 160, 166)])
def test_highest_heart_rates_by_both_formulas(age: float, fox: float, tanaka: float) -> None:
    """220 - age (Fox 1971) and 208 - 0.7 age (Tanaka 2001)."""
    assert effort.highest_heart_rate_fox(age) == pytest.approx(fox)
    assert effort.highest_heart_rate_tanaka(age) == pytest.approx(tanaka)


@pytest.mark.parametrize(("rating", "left"), [(10, 0), (9, 1), (8, 2), (7, 3)])
def test_reserve_follows_the_published_table(rating: float, left: float) -> None:
    """Zourdos et al. 2016, J Strength Cond Res 30:267."""
    assert effort.reserve_at(rating) == left
    assert effort.effort_at(left) == rating


@pytest.mark.parametrize(
    ("rating", "fewest", "most"), [(8.5, 1, 2), (7.5, 2, 3), (6, 4, 6), (5, 4, 6)]
)
def test_half_points_and_lower_ratings_lie_in_the_published_ranges(
    rating: float, fewest: float, most: float
) -> None:
    """Helms et al. 2016, Strength Cond J 38:42 (from memory)."""
    left = effort.reserve_at(rating)
    assert left is not None
    assert fewest <= left <= most


def test_the_table_is_silent_about_light_effort() -> None:
    assert effort.reserve_at(4.9) is None
    assert effort.effort_at(6.1) is None


@given(st.floats(5, 10), st.floats(5, 10))
def test_more_effort_never_leaves_more_reserve(one: float, other: float) -> None:
    less, more = (effort.reserve_at(each) for each in sorted((one, other)))
    assert less is not None
    assert more is not None
    assert less >= more
    assert effort.effort_at(more) == pytest.approx(max(one, other))


@pytest.mark.parametrize(
    ("scale", "typed", "read"),
    [
        (effort.Scale.TEN, "8", (8.0, None)),
        (effort.Scale.TEN, "15/20", (5.0, 15.0)),
        (effort.Scale.TEN, "15", None),
        (effort.Scale.TWENTY, "15", (5.0, 15.0)),
        (effort.Scale.TWENTY, "8", (1.0, 8.0)),
        (effort.Scale.TWENTY, "4", None),
        (effort.Scale.TWENTY, "8/10", (8.0, None)),
        (effort.Scale.TWENTY, "80 %", (8.0, None)),
    ],
)
def test_a_number_alone_means_the_scale_on_screen(
    scale: effort.Scale, typed: str, read: tuple[float, float | None] | None
) -> None:
    assert effort.read_rating_on(scale, typed) == read
