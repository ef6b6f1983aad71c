"""Which digests still lack their picture."""

from datetime import datetime

from bot.storage.database import Transaction
from bot.storage.moments import write_moment
from bot.storage.sessions import Session, read_session


async def sessions_without_picture(
    tx: Transaction, now: datetime, since: datetime
) -> tuple[Session, ...]:
    """Classes whose digest was sent since then, and whose picture was not, earliest first.

    Who leads them gets a letter `picture/<session>/<person>/<sheet>`; one of them is enough, and
    is found between the slash and the character that follows it, the 0.
    """
    rows = await tx.all(
        """
        SELECT session.* FROM session JOIN due ON due.session_id = session.id
        WHERE due.kind = 'digest' AND due.done_at >= :since
        AND session.ends_at > :now AND session.cancelled_at IS NULL
        AND NOT EXISTS (
            SELECT 1 FROM outbox WHERE outbox.id > 'picture/' || session.id || '/'
            AND outbox.id < 'picture/' || session.id || '0'
        )
        ORDER BY session.starts_at
        """,
        now=write_moment(now),
        since=write_moment(since),
    )
    return tuple(map(read_session, rows))
