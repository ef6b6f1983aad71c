"""Documents become letters: a file to keep or to print, with its words under it."""

import logging
import re
from datetime import datetime, timedelta

from bot.desk.letters import Errand
from bot.pictures.cards import QrCard
from bot.pictures.render import rendered
from bot.storage.database import Database, Transaction
from bot.storage.outbox import Attachment, Letter, queue
from bot.words.inviting import qr_caption
from bot.words.speech import Html, Speech

LOG = logging.getLogger(__name__)

UNUSUAL = re.compile(r"[^a-z0-9]+")
LONGEST_NAME = 40
QR_USEFUL = timedelta(hours=1)
"""How late the picture of a link may come: it can always be asked for anew."""


async def hand(
    tx: Transaction,
    chat: int,
    name: str,
    content: bytes,
    caption: Html,
    errand: Errand,
    now: datetime,
) -> bool:
    """Queue a document that may be passed on; false if it was handed out before."""
    letter = Letter(
        id=errand.id,
        chat=chat,
        method="sendDocument",
        arguments={"caption": caption, "parse_mode": "HTML"},
        priority=errand.priority,
        kind=errand.kind,
        not_after=errand.not_after,
        file=Attachment(field="document", name=name, content=content),
    )
    return await queue(tx, letter, now)


async def hand_qr(
    database: Database,
    account: int,
    speech: Speech,
    link: str,
    group: str,
    reason: str,
    now: datetime,
) -> None:
    """Draw the QR picture of a link, and hand it to an instructor; killed halfway, it is missed.

    As a document, so that the chat service leaves its pixels alone.
    """
    try:
        picture = await rendered(QrCard(link=link, name=group))
    except Exception:
        LOG.exception("the picture of a link could not be drawn")
        return
    errand = Errand(id=f"qr/{reason}", not_after=now + QR_USEFUL)
    caption = qr_caption(speech, group)
    name = f"{file_name(group, 'group')}-qr.png"
    async with database.transaction() as tx:
        await hand(tx, account, name, picture, caption, errand, now)


def file_name(name: str, otherwise: str) -> str:
    """A name for a file that every computer takes, without its ending."""
    return UNUSUAL.sub("-", name.casefold()).strip("-")[:LONGEST_NAME].rstrip("-") or otherwise
