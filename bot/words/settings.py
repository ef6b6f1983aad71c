"""Settings: one message that changes in place, a page for each thing that can be set."""

from collections.abc import Iterable
from dataclasses import dataclass

from babel import Locale

from bot.buttons.personal import Setting, SettingButton
from bot.words.message import Key, Message
from bot.words.speech import LANGUAGES, Html, Speech, bold, later, lines
from core.effort import Scale

Row = tuple[Key, ...]

ASKED = {
    "after": later("right after class"),
    "evening": later("at 20:00 the same day"),
    "morning": later("at 09:00 the next day"),
}
QUIET_FROM = (18 * 60, 19 * 60, 20 * 60, 21 * 60, 21 * 60 + 30, 22 * 60, 23 * 60, 0)
"""Minutes since midnight, as offered."""
QUIET_UNTIL = (5 * 60, 6 * 60, 7 * 60, 8 * 60, 9 * 60, 10 * 60, 11 * 60, 12 * 60)
KEYS_IN_A_ROW = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What somebody has chosen, with how to speak to them."""

    speech: Speech
    person: str
    """Their id, for the buttons."""
    language: str | None
    asked: str
    reminder: bool
    quiet: tuple[int, int]
    """Minutes since midnight: when the quiet hours begin, and end."""

    def key(self, label: str, setting: Setting | None, value: str | None = None) -> Key:
        """A button of this person's settings."""
        return Key(label, SettingButton(self.person, setting, value))

    def option(self, label: str, setting: Setting, value: str, *, now: bool) -> Key:
        """A value that can be chosen; the one that holds now is ticked."""
        return self.key(f"✓ {label}" if now else label, setting, value)

    def page(self, text: Html, rows: Iterable[Row]) -> Message:
        """One page, with the way back."""
        back = self.key(self.speech.label("Back"), None)
        return Message(text=text, rows=(*rows, (back,)))


def settings_message(chosen: Chosen) -> Message:
    """All settings, with what they are now."""
    speech, label = chosen.speech, chosen.speech.label
    begins, ends = (clock_words(each) for each in chosen.quiet)
    asked = label(ASKED[chosen.asked])
    other = "off" if chosen.reminder else "on"
    reminder = label("Reminder: on") if chosen.reminder else label("Reminder: off")
    heart = label("Heart-rate words: on") if speech.heart_rate else label("Heart-rate words: off")
    return Message(
        text=lines(
            bold(label("Settings")),
            speech.text("This is how it is now. Tap something to change it."),
        ),
        rows=tuple(
            (key,)
            for key in (
                chosen.key(label("Scale: {scale}", scale=scale_name(speech)), Setting.SCALE),
                chosen.key(
                    label("Language: {language}", language=language_name(speech, chosen.language)),
                    Setting.LANGUAGE,
                ),
                chosen.key(label("When I ask: {when}", when=asked), Setting.ASKED),
                chosen.key(reminder, Setting.REMINDER, other),
                chosen.key(label("No reminders from {time} on", time=begins), Setting.QUIET_FROM),
                chosen.key(label("Reminders again from {time} on", time=ends), Setting.QUIET_UNTIL),
                chosen.key(heart, Setting.HEART_RATE),
            )
        ),
    )


def scale_page(chosen: Chosen) -> Message:
    """Which numbers to rate with, and how the two scales go together."""
    speech = chosen.speech
    text = lines(
        speech.text("Which numbers would you like to rate with?"),
        "",
        speech.text(
            "They mean the same, matched by words (Borg 1998): 3 or 12 is moderate, 5 or 15 is "
            "hard, 7 or 17 is very hard but in control, 10 or 20 is all you had."
        ),
    )
    ten, twenty = (speech.scale is each for each in (Scale.TEN, Scale.TWENTY))
    return chosen.page(
        text,
        (
            (chosen.option(speech.label("0 to 10"), Setting.SCALE, Scale.TEN, now=ten),),
            (chosen.option(speech.label("6 to 20"), Setting.SCALE, Scale.TWENTY, now=twenty),),
        ),
    )


def language_page(chosen: Chosen) -> Message:
    """Which language to speak; each is named in itself."""
    speech = chosen.speech
    automatic = chosen.option(
        speech.label("As in my chat app"), Setting.LANGUAGE, "auto", now=chosen.language is None
    )
    named = (
        chosen.option(own_name(each), Setting.LANGUAGE, each, now=chosen.language == each)
        for each in LANGUAGES
    )
    return chosen.page(
        speech.text("Which language should I speak?"), ((key,) for key in (automatic, *named))
    )


def asked_page(chosen: Chosen) -> Message:
    """When to be asked about a class."""
    speech = chosen.speech
    return chosen.page(
        lines(
            speech.text("When should I ask you about a class?"),
            speech.text("If that would be after the next class has started, I ask at once."),
        ),
        (
            (chosen.option(speech.label(words), Setting.ASKED, each, now=chosen.asked == each),)
            for each, words in ASKED.items()
        ),
    )


def quiet_page(chosen: Chosen, setting: Setting) -> Message:
    """From when on, or until when, not to be reminded."""
    speech = chosen.speech
    begins = setting is Setting.QUIET_FROM
    offered, now = (QUIET_FROM, chosen.quiet[0]) if begins else (QUIET_UNTIL, chosen.quiet[1])
    question = (
        speech.text("From what time should I send no reminders?")
        if begins
        else speech.text("From what time may I remind you again?")
    )
    keys = [chosen.option(clock_words(at), setting, str(at), now=at == now) for at in offered]
    starts = range(0, len(keys), KEYS_IN_A_ROW)
    return chosen.page(question, (tuple(keys[at : at + KEYS_IN_A_ROW]) for at in starts))


def heart_rate_page(chosen: Chosen) -> Message:
    """Whether to read about heart rates."""
    speech = chosen.speech
    text = speech.text(
        "Heart rate goes with effort only roughly: about ten times the rating from 6 to 20, and "
        "that is only an approximation. How hard it feels stays the better guide."
    )
    if speech.heart_rate:
        change = chosen.key(speech.label("Hide the heart-rate words"), Setting.HEART_RATE, "off")
    else:
        change = chosen.key(
            speech.label("Show approximate heart-rate words"), Setting.HEART_RATE, "ask"
        )
    return chosen.page(text, ((change,),))


def medicine_page(chosen: Chosen) -> Message:
    """The question that comes before heart rates."""
    label = chosen.speech.label
    return chosen.page(
        chosen.speech.text(
            "One question first: do you take medicine that lowers your heart rate, such as a beta "
            "blocker? Your answer isn't stored."
        ),
        (
            (chosen.key(label("No"), Setting.HEART_RATE, "on"),),
            (chosen.key(label("Yes, or I'm not sure"), Setting.HEART_RATE, "medicine"),),
        ),
    )


def hidden_page(chosen: Chosen) -> Message:
    """Why heart rates stay hidden."""
    return chosen.page(
        chosen.speech.text(
            "Then I leave the heart-rate words out: with such medicine the numbers don't fit, and "
            "could lead you to overdo it. Rate by how hard it feels; that works just as well for "
            "you. Whoever prescribed it can tell you more."
        ),
        (),
    )


def scale_name(speech: Speech) -> str:
    """The scale that this person rates on."""
    return speech.label("6 to 20") if speech.scale is Scale.TWENTY else speech.label("0 to 10")


def language_name(speech: Speech, language: str | None) -> str:
    """A chosen language in itself, or that none was chosen."""
    return speech.label("as in my chat app") if language is None else own_name(language)


def own_name(language: str) -> str:
    """What a language calls itself, such as `Deutsch`."""
    return str(Locale.parse(language).get_display_name(language)).capitalize()


def clock_words(minutes: int) -> str:
    """Minutes since midnight on the clock, such as `21:30`."""
    return f"{minutes // 60:02}:{minutes % 60:02}"
