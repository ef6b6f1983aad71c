"""How much one person may send: more than that in a short while is put away unread."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.storage.database import Transaction
from bot.storage.inbox import Incoming
from bot.storage.moments import write_moment

# What came in is there already, so nothing else has to be remembered: a restart forgives nothing.
# Moments after now are from before the clock was set back.
PUT_AWAY = """
UPDATE inbox SET done_at = :now, document = '{}', problem = 'too much' WHERE update_id IN (
    SELECT update_id FROM inbox AS it
    WHERE arrival >= (SELECT arrival FROM inbox WHERE update_id = :first)
    AND person_key LIKE 'from %' AND :most <= (
        SELECT count(*) FROM inbox AS earlier
        WHERE earlier.person_key = it.person_key AND earlier.problem IS NULL
        AND earlier.received_at > :since AND earlier.received_at <= :now
        AND earlier.arrival < it.arrival
    )
) RETURNING update_id
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """As much as twenty a minute, of which a whole three minutes may come at once.

    A prompt takes about fifteen taps; noting who was there, one for each member.
    """

    most: int = 60
    window: timedelta = timedelta(minutes=3)


async def put_away(
    tx: Transaction, new: Sequence[Incoming], now: datetime, allowance: Allowance
) -> tuple[Incoming, ...]:
    """Mark as done, unread, what goes beyond the allowance; returns that.

    `new` has come in just now, in the order of arrival.
    """
    if not new:
        return ()
    rows = await tx.all(
        PUT_AWAY,
        first=new[0].update_id,
        most=allowance.most,
        since=write_moment(now - allowance.window),
        now=write_moment(now),
    )
    too_much = {row["update_id"] for row in rows}
    return tuple(each for each in new if each.update_id in too_much)
