"""How to speak to a person whom the bot knows: their language, and the scale they rate on."""

from bot.storage.people import Person
from bot.words.speech import Speech, speech_for


def speech_to(person: Person) -> Speech:
    """The speech that this person has chosen, or that of their chat."""
    chosen = person.preferences
    return speech_for(person.language, chosen.scale, heart_rate=chosen.heart_rate)
