"""Once a day: plan the coming weeks, and throw away what is no longer needed."""

import logging
from datetime import datetime, timedelta

from bot.desk.calendar import plan_ahead
from bot.storage import (
    advice,
    askings,
    calendars,
    class_typings,
    dialogues,
    drafts,
    entrusting,
    exports,
    group_chats,
    groups,
    inbox,
    members,
    notings,
    outbox,
    pauses,
    people,
    pulse,
    retention,
    roster,
    substitutes,
    uploads,
)
from bot.storage.database import Database

LOG = logging.getLogger(__name__)

EVERY = timedelta(days=1)
KEEP_INBOX = timedelta(days=8)
"""The chat API starts its numbers anew after a quiet week, so older ones mean nothing."""
KEEP_OUTBOX = timedelta(days=60)
"""As long as a message may still be changed by something that was pressed under it."""
KEEP_ADVICE = timedelta(days=30)
KEEP_UNANSWERED = timedelta(days=1)
KEEP_OFFERS = timedelta(days=30)
KEEP_DIALOGUES = timedelta(days=90)
HOUSEKEEPING = "housekeeping"


async def keep_house(database: Database, now: datetime) -> None:
    """Do it if it wasn't done within a day, by whichever process."""
    async with database.transaction() as tx:
        last = await pulse.last_beat(tx, HOUSEKEEPING)
        if last is not None and now - last < EVERY:
            return
        await pulse.note_beat(tx, HOUSEKEEPING, now)
        for group in await groups.all_groups(tx):
            await plan_ahead(tx, group, now)
            await retention.thin_out(tx, group.id, now)
        await inbox.prune(tx, now - KEEP_INBOX)
        await outbox.prune(tx, now - KEEP_OUTBOX)
        await advice.prune_advice(tx, now - KEEP_ADVICE)
        await members.forget_joining(tx, now - KEEP_UNANSWERED)
        await group_chats.forget_offers(tx, now - KEEP_OFFERS)
        await askings.forget_askings(tx, now - KEEP_ADVICE)
        await dialogues.forget_dialogues(tx, now - KEEP_DIALOGUES)
        await drafts.forget_drafts(tx, now - KEEP_DIALOGUES)
        await notings.forget_notings(tx, now - KEEP_DIALOGUES)
        await pauses.forget_pauses(tx, now)
        await uploads.forget_uploads(tx, now - KEEP_UNANSWERED)
        await calendars.forget_uploads(tx, now - KEEP_UNANSWERED)
        await class_typings.forget_typings(tx, now - KEEP_UNANSWERED)
        await entrusting.forget_links(tx, now - KEEP_OFFERS)
        await exports.forget_exports(tx, now - KEEP_OFFERS)
        await roster.forget_invited(tx, now)
        await substitutes.forget_substitutes(tx, now - KEEP_OFFERS)
        await people.forget_wrong_codes(tx, now - KEEP_UNANSWERED)
    await database.tidy()
    LOG.info("the coming weeks are planned and the house is tidy")
