"""Time zones as people find them: by city, by country, or by what their clock shows."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, time
from functools import cache
from unicodedata import combining, normalize
from zoneinfo import available_timezones

from babel import Locale
from babel.core import get_global

from bot.timetable import is_zone, local
from bot.words.speech import LANGUAGES, Speech

USUAL: Mapping[str, tuple[str, ...]] = {
    "en": (
        "Europe/London",
        "America/New_York",
        "America/Chicago",
        "America/Los_Angeles",
        "Australia/Sydney",
    ),
    "es": (
        "Europe/Madrid",
        "America/Mexico_City",
        "America/Bogota",
        "America/Santiago",
        "America/Argentina/Buenos_Aires",
    ),
    "de": ("Europe/Berlin", "Europe/Vienna", "Europe/Zurich"),
}
"""Where most people who speak a language are."""
EVERYWHERE = (
    "Pacific/Honolulu", "America/Los_Angeles", "America/Denver", "America/Chicago",
    "America/New_York", "America/Halifax", "America/Sao_Paulo", "Atlantic/Azores",
    "Europe/London", "Europe/Berlin", "Europe/Athens", "Europe/Istanbul", "Asia/Dubai",
    "Asia/Karachi", "Asia/Kolkata", "Asia/Dhaka", "Asia/Bangkok", "Asia/Singapore",
    "Asia/Tokyo", "Australia/Adelaide", "Australia/Brisbane", "Australia/Sydney",
    "Pacific/Auckland",
)  # fmt: skip
"""One or two places for each hour of the day."""
MOST_FOUND = 8
NEAR = 20
"""Minutes by which a clock may be wrong, or a person slow to type."""
DAY = 24 * 60
WORLD = ("001", "ZZ")
"""Territories that are no place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A time zone with the names that people look for, in small letters without accents."""

    zone: str
    city: str
    """As it is shown."""
    called: tuple[str, ...]
    """City, country and zone."""


def offered_zones(speech: Speech, known: Iterable[str]) -> tuple[str, ...]:
    """The zones of groups that exist, and then the usual ones."""
    return tuple(dict.fromkeys((*known, *USUAL[speech.language])))


def city(speech: Speech, zone: str) -> str:
    """What people call a zone: its city."""
    place = _places(speech.language).get(zone)
    return place.city if place else zone.rpartition("/")[2].replace("_", " ")


def zones_called(speech: Speech, text: str) -> tuple[str, ...]:
    """The zones that somebody may mean by a city, a country or a name, best first."""
    if is_zone(text.strip()):
        return (text.strip(),)
    wanted = _bare(text)
    if not wanted:
        return ()
    known = _places(speech.language)
    first = (zone for zone in (*sum(USUAL.values(), ()), *EVERYWHERE) if zone in known)
    places = [known[zone] for zone in dict.fromkeys((*first, *known))]
    exact = [each.zone for each in places if wanted in each.called]
    begin = [each.zone for each in places if any(name.startswith(wanted) for name in each.called)]
    inside = [each.zone for each in places if any(f" {wanted}" in name for name in each.called)]
    return tuple(dict.fromkeys((*exact, *begin, *inside)))[:MOST_FOUND]


def zones_showing(speech: Speech, clock: time, now: datetime) -> tuple[str, ...]:
    """The zones where clocks show about this time now."""
    wanted = 60 * clock.hour + clock.minute

    def is_near(zone: str) -> bool:
        wall = local(now, zone)
        apart = abs(60 * wall.hour + wall.minute - wanted)
        return min(apart, DAY - apart) <= NEAR

    candidates = dict.fromkeys((*USUAL[speech.language], *sum(USUAL.values(), ()), *EVERYWHERE))
    return tuple(zone for zone in candidates if is_near(zone))[:MOST_FOUND]


@cache
def _places(language: str) -> Mapping[str, Place]:
    """All places by zone; where a zone has an old and a new name, under the one of its city."""
    aliases, territories = get_global("zone_aliases"), get_global("zone_territories")
    locale, english = Locale.parse(LANGUAGES[language]), Locale.parse("en")
    found: dict[str, Place] = {}
    by_origin: dict[str, list[str]] = {}
    for zone in sorted(available_timezones()):
        by_origin.setdefault(aliases.get(zone, zone), []).append(zone)
    for origin, zones in by_origin.items():
        territory = territories.get(origin)
        if territory is None or territory in WORLD:
            continue
        in_english = _city(english, origin)
        zone = next((each for each in zones if _last(each) == in_english), origin)
        shown = _city(locale, origin)
        countries = (each.territories.get(territory, "") for each in (locale, english))
        names = (shown, in_english, *countries, zone, *map(_last, zones))
        found[zone] = Place(zone=zone, city=shown, called=tuple(dict.fromkeys(map(_bare, names))))
    return found


def _city(locale: Locale, zone: str) -> str:
    known: str | None = locale.time_zones.get(zone, {}).get("city")
    return known or _last(zone)


def _last(zone: str) -> str:
    return zone.rpartition("/")[2].replace("_", " ")


def _bare(text: str) -> str:
    apart = normalize("NFD", text.strip().casefold())
    return "".join(char for char in apart if not combining(char))
