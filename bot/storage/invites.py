"""The link into a group that works now, by what is kept of it."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row


async def open_invite(tx: Transaction, group_id: str, now: datetime) -> str | None:
    """The id of the link that lets anybody into a group now; None if there is none."""
    fingerprint = await tx.value(
        """
        SELECT fingerprint FROM invite WHERE group_id = :group_id AND called IS NULL
        AND revoked_at IS NULL AND expires_at > :now AND uses_left > 0
        ORDER BY made_at DESC LIMIT 1
        """,
        group_id=group_id,
        now=write_moment(now),
    )
    return None if fingerprint is None else name_row("invite", fingerprint)
