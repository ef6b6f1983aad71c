"""Time zones are found by city, by country and by clock, and each is one that exists."""

from datetime import UTC, datetime, time

import pytest

from bot.timetable import is_zone
from bot.words.speech import LANGUAGES, speech_for
from bot.words.zones import (
    EVERYWHERE,
    MOST_FOUND,
    USUAL,
    city,
    offered_zones,
    zones_called,
    zones_showing,
)

NOON = datetime(2026, 8, 31, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("language", "text", "zone"),
    [
        ("en", "Lisbon", "Europe/Lisbon"),
        ("de", "lissabon", "Europe/Lisbon"),
        ("en", "GERMANY", "Europe/Berlin"),
        ("es", "alemania", "Europe/Berlin"),
        ("en", "kolkata", "Asia/Kolkata"),
        ("en", "Kiev", "Europe/Kyiv"),
        ("en", "new y", "America/New_York"),
        ("es", "Bogota", "America/Bogota"),
        ("en", "united states", "America/New_York"),
        ("en", "America/Argentina/Ushuaia", "America/Argentina/Ushuaia"),
        ("en", "UTC", "UTC"),
    ],
)
def test_a_place_is_found_by_what_people_call_it(language: str, text: str, zone: str) -> None:
    assert zone in zones_called(speech_for(language), text)


@pytest.mark.parametrize("text", ["", "   ", "Atlantis", "<b>", "../etc/passwd"])
def test_what_is_no_place_is_not_found(text: str) -> None:
    assert zones_called(speech_for("en"), text) == ()


@pytest.mark.parametrize("language", LANGUAGES)
def test_everything_that_is_offered_exists_and_has_a_city(language: str) -> None:
    speech = speech_for(language)
    offered = offered_zones(speech, ("America/Halifax",))
    assert offered[0] == "America/Halifax"
    for zone in (*offered, *EVERYWHERE, *(each for some in USUAL.values() for each in some)):
        assert is_zone(zone)
        assert city(speech, zone)
        assert "_" not in city(speech, zone)
    assert len(zones_called(speech, "a")) == MOST_FOUND


def test_a_clock_finds_the_places_where_it_shows_the_same() -> None:
    speech = speech_for("en")
    assert "Asia/Kolkata" in zones_showing(speech, time(17, 35), NOON)
    assert "Europe/London" in zones_showing(speech, time(12, 55), NOON)
    assert "Europe/London" not in zones_showing(speech, time(11, 0), NOON)
    assert zones_showing(speech, time(23, 55), NOON.replace(hour=23)) != ()
