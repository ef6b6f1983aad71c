"""How the bot speaks to one person: their language, their numbers, their days.

Sentences are written in English where they are needed and looked up in the catalogues beside this
file. Whole sentences only, since languages order their parts differently.
"""

import gettext
from collections.abc import Iterable
from datetime import date, datetime
from functools import cache, lru_cache
from html import escape
from importlib.resources import files
from unicodedata import bidirectional
from zoneinfo import ZoneInfo

from babel import Locale
from babel.dates import format_date, format_skeleton, format_time
from babel.lists import format_list
from babel.numbers import format_decimal

from core.effort import Scale, to_6_20

LANGUAGES = {"en": "en_GB", "es": "es", "de": "de"}
"""Languages we speak, each with the locale whose numbers and dates we use."""
DEFAULT = "en"
RIGHT_TO_LEFT = ("R", "AL")
"""Unicode's classes of letters that are read from right to left."""
ISOLATE, END_OF_ISOLATE = "\u2068", "\u2069"
"""Around what is read in its own direction."""


class Html(str):
    """Text in the chat API's HTML, with everything in it escaped that has to be."""

    __slots__ = ()


def later(sentence: str) -> str:
    """Mark a sentence for the catalogues that is said by another line than the one it stands in."""
    return sentence


class Speech:
    """Says sentences in one language, and ratings on one scale."""

    def __init__(
        self,
        language: str,
        catalogue: gettext.NullTranslations,
        scale: Scale = Scale.TEN,
        *,
        heart_rate: bool = False,
    ) -> None:
        self.language = language
        self.scale = scale
        self.heart_rate = heart_rate
        self._catalogue = catalogue
        self._locale = _locale(language)

    def text(self, sentence: str, /, **facts: object) -> Html:
        """A sentence for a message; facts that aren't HTML already are escaped."""
        return Html(self._catalogue.gettext(sentence).format(**_escaped(facts)))

    def texts(self, one: str, more: str, count: int, /, **facts: object) -> Html:
        """A sentence that counts something, `{count}`."""
        found = self._catalogue.ngettext(one, more, count)
        return Html(found.format(**_escaped({"count": self.number(count), **facts})))

    def label(self, sentence: str, /, **facts: object) -> str:
        """The same for buttons, toasts and consoles, where text means itself."""
        return self._catalogue.gettext(sentence).format(**_apart(facts))

    def labels(self, one: str, more: str, count: int, /, **facts: object) -> str:
        """A label that counts something, `{count}`."""
        found = self._catalogue.ngettext(one, more, count)
        return found.format(**_apart({"count": self.number(count), **facts}))

    def number(self, number: float) -> str:
        """A number to two decimals, without needless zeros: `7.5`, or `7,5`."""
        return _number(round(number, 2) + 0.0, self.language)

    def rating(self, rating: float) -> str:
        """A rating on our scale in the numbers that this person rates with."""
        return self.number(to_6_20(rating) if self.scale is Scale.TWENTY else rating)

    def day(self, day: date) -> str:
        """A day, such as `Thu, 3 Sep`."""
        return _day(day, self.language)

    def short_day(self, day: date) -> str:
        """A day in numbers, such as `24/12/2026`."""
        return format_date(day, format="short", locale=self._locale)

    def moment(self, moment: datetime, timezone: str) -> str:
        """A moment on the clock of a place, such as `Thu, 3 Sep, 18:30`."""
        local = moment.astimezone(ZoneInfo(timezone))
        clock = format_time(local.time(), format="HH:mm", locale=self._locale)
        return f"{self.day(local.date())}, {clock}"

    def listed(self, things: Iterable[str]) -> str:
        """Several things in one line, such as `Mira, Tom and Ana`."""
        each = [in_its_direction(thing) for thing in things]
        return format_list(each, style="standard", locale=self._locale)


def bold(text: str) -> Html:
    """Text in bold, whatever characters it holds."""
    return Html(f"<b>{_safe(in_its_direction(text))}</b>")


def small(text: str) -> Html:
    """Text that is less important."""
    return Html(f"<i>{_safe(text)}</i>")


def lines(*parts: str | None) -> Html:
    """Lines of a message; None leaves one out, an empty one stays as a gap."""
    return Html("\n".join(_safe(part) for part in parts if part is not None))


def speech_for(
    language: str | None, scale: Scale = Scale.TEN, *, heart_rate: bool = False
) -> Speech:
    """How to speak to someone whose chat is set to this language, such as `de` or `pt-BR`.

    `scale` is the one they rate on; `heart_rate` says whether they want to read of it.
    """
    plain = (language or DEFAULT).partition("-")[0].lower()
    known = plain if plain in LANGUAGES else DEFAULT
    return Speech(known, _catalogue(known), scale, heart_rate=heart_rate)


@lru_cache(maxsize=4096)
def _number(number: float, language: str) -> str:
    return format_decimal(number, format="0.##", locale=LANGUAGES[language])


@lru_cache(maxsize=512)
def _day(day: date, language: str) -> str:
    return format_skeleton("MMMEd", day, locale=_locale(language))


@cache
def _locale(language: str) -> Locale:
    return Locale.parse(LANGUAGES[language])


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    if language == DEFAULT:
        return gettext.NullTranslations()
    with (files("bot.words") / "catalogues" / f"{language}.mo").open("rb") as compiled:
        return gettext.GNUTranslations(compiled)


def in_its_direction(text: str) -> str:
    """The text so that letters from right to left don't turn the numbers and words around them."""
    if text.isascii() or text[:1] == ISOLATE:
        return text
    if not any(bidirectional(each) in RIGHT_TO_LEFT for each in text):
        return text
    return type(text)(f"{ISOLATE}{text}{END_OF_ISOLATE}")


def _apart(facts: dict[str, object]) -> dict[str, object]:
    return {
        name: in_its_direction(fact) if isinstance(fact, str) else fact
        for name, fact in facts.items()
    }


def _escaped(facts: dict[str, object]) -> dict[str, object]:
    return {
        name: _safe(fact) if isinstance(fact, str) else fact for name, fact in _apart(facts).items()
    }


def _safe(text: str) -> str:
    return text if isinstance(text, Html) else escape(text, quote=False)
