"""/settings: scale, language, when I'm asked, reminders, quiet hours, heart-rate words."""

from dataclasses import replace

from bot.buttons.personal import Setting, SettingButton
from bot.chat.visit import Visit
from bot.desk.voice import speech_to
from bot.storage.people import Person
from bot.storage.preferences import AskedWhen, Preferences, keep_preferences
from bot.words import settings as words
from bot.words import toasts
from bot.words.joining import STRANGER
from bot.words.message import Message
from bot.words.speech import LANGUAGES
from core.effort import Scale


async def settings(visit: Visit) -> None:
    """Everything that can be set, with what it is now."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    await visit.say(words.settings_message(_chosen(visit.person)))


async def press(visit: Visit) -> None:
    """Look at one setting, or choose a value for it; choosing it twice changes nothing."""
    button, person = SettingButton.read(visit.data), visit.person
    if button is None or person is None or button.id != person.id:
        visit.toast = toasts.NOT_YOURS
        return
    setting, value = button.setting, button.value
    if setting is None or value is None:
        await visit.replace(_page(person, setting))
        return
    if setting is Setting.HEART_RATE and value == "ask":
        await visit.replace(words.medicine_page(_chosen(person)))
        return
    chosen = changed(person.preferences, setting, value)
    if chosen is None:
        visit.toast = toasts.OUTDATED
        return
    await keep_preferences(visit.tx, person.id, chosen, visit.now)
    person = replace(person, preferences=chosen)
    hidden = setting is Setting.HEART_RATE and value == "medicine"
    told = words.hidden_page if hidden else words.settings_message
    visit.toast = toasts.NOTED
    await visit.replace(told(_chosen(person)))


def changed(now: Preferences, setting: Setting, value: str) -> Preferences | None:
    """The preferences with another value; None if that isn't offered."""
    match setting:
        case Setting.SCALE:
            return replace(now, scale=Scale(value))
        case Setting.LANGUAGE if value == "auto":
            return replace(now, language=None)
        case Setting.LANGUAGE:
            return replace(now, language=value) if value in LANGUAGES else None
        case Setting.ASKED:
            return replace(now, asked=AskedWhen(value))
        case Setting.REMINDER:
            return replace(now, reminder=value == "on")
        case Setting.QUIET_FROM:
            minutes = int(value)
            return replace(now, quiet_from=minutes) if minutes in words.QUIET_FROM else None
        case Setting.QUIET_UNTIL:
            minutes = int(value)
            return replace(now, quiet_until=minutes) if minutes in words.QUIET_UNTIL else None
        case Setting.HEART_RATE:
            return replace(now, heart_rate=value == "on")


def _page(person: Person, setting: Setting | None) -> Message:
    chosen = _chosen(person)
    match setting:
        case Setting.SCALE:
            return words.scale_page(chosen)
        case Setting.LANGUAGE:
            return words.language_page(chosen)
        case Setting.ASKED:
            return words.asked_page(chosen)
        case Setting.QUIET_FROM | Setting.QUIET_UNTIL:
            return words.quiet_page(chosen, setting)
        case Setting.HEART_RATE:
            return words.heart_rate_page(chosen)
        case Setting.REMINDER | None:
            return words.settings_message(chosen)


def _chosen(person: Person) -> words.Chosen:
    now = person.preferences
    return words.Chosen(
        speech=speech_to(person),
        person=person.id,
        language=now.language,
        asked=now.asked.value,
        reminder=now.reminder,
        quiet=(now.quiet_from, now.quiet_until),
    )
