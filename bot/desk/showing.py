"""Pictures become letters: a file with its words under it."""

from datetime import datetime

from bot.desk.letters import Errand
from bot.storage.database import Transaction
from bot.storage.outbox import Attachment, Letter, queue
from bot.words.speech import Html


async def show(
    tx: Transaction, chat: int, picture: bytes, caption: Html, errand: Errand, now: datetime
) -> bool:
    """Queue a picture that was drawn before, about a person; false if it was shown before."""
    letter = Letter(
        id=errand.id,
        chat=chat,
        method="sendPhoto",
        arguments={"caption": caption, "parse_mode": "HTML", "protect_content": True},
        priority=errand.priority,
        kind=errand.kind,
        not_after=errand.not_after,
        file=Attachment(field="photo", name="picture.png", content=picture),
    )
    return await queue(tx, letter, now)
