"""Whether histories are read as they are stored, whatever is remembered of them."""

from bot.storage.database import Transaction
from bot.storage.groups import all_groups
from bot.storage.history import reports_of_group
from bot.storage.people import people_by_id
from bot.storage.remembered import forget_histories
from core.reports import Reports

Histories = dict[tuple[str, str | None], Reports]
"""By group, and member if it is one's."""

OVERLOOKED = """
SELECT id FROM session WHERE edition IS NULL AND (
    EXISTS (SELECT 1 FROM prompt JOIN answer ON prompt_id = prompt.id WHERE session_id = session.id)
    OR EXISTS (SELECT 1 FROM attendance WHERE session_id = session.id)
    OR EXISTS (SELECT 1 FROM verdict WHERE session_id = session.id)
)
"""
"""Classes about which something was said, and nobody would read it."""


async def misread(tx: Transaction) -> list[str]:
    """Whose history is another one when it is read anew, and what isn't read; nothing should be."""
    remembered = await _all(tx)
    forget_histories()
    anew = await _all(tx)
    changed = [f"history of {whose}" for whose, it in anew.items() if remembered[whose] != it]
    return changed + [f"class {row['id']}" for row in await tx.all(OVERLOOKED)]


async def _all(tx: Transaction) -> Histories:
    found: Histories = {}
    for group in await all_groups(tx):
        for member in (None, *await people_by_id(tx, group.id)):
            found[group.id, member] = await reports_of_group(tx, group.id, member=member)
    return found
