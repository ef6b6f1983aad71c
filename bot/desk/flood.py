"""Whoever sends far too much is told so, once in a while."""

from datetime import datetime, timedelta

from bot.desk.letters import Errand, say
from bot.desk.voice import speech_to
from bot.storage.database import Transaction
from bot.storage.names import name_row
from bot.storage.people import person_of_account
from bot.words.flood import TOO_MUCH
from bot.words.speech import speech_for

AGAIN_AFTER = timedelta(minutes=10)


async def tell_too_much(tx: Transaction, account: int, language: str | None, now: datetime) -> None:
    """Say it in their own chat, at most once in each ten minutes of the clock."""
    person = await person_of_account(tx, account)
    speech = speech_for(language) if person is None else speech_to(person)
    time = int(now.timestamp() // AGAIN_AFTER.total_seconds())
    errand = Errand(
        id=f"too-much/{name_row('person', account)}/{time}", not_after=now + AGAIN_AFTER
    )
    await say(tx, account, TOO_MUCH(speech), errand, now)
