"""One turn of the calendar: do what is due by now, and drop what is too late to help."""

import logging
from datetime import datetime

from bot.desk import calendar, digests, opening, prompts, shared_questions
from bot.schedule.ahead import do_ahead
from bot.schedule.alerts import repeat_alerts
from bot.schedule.exports import send_waiting_exports
from bot.schedule.housekeeping import keep_house
from bot.schedule.overviews import send_overviews
from bot.schedule.own_times import ask_members
from bot.schedule.summaries import send_summaries
from bot.schedule.sweeping import sweep
from bot.schedule.waiting import had_better_wait
from bot.storage import dues, sessions
from bot.storage.database import Database, Transaction
from bot.storage.dues import Due, Occasion

LOG = logging.getLogger(__name__)


async def take_turn(database: Database, now: datetime) -> None:
    """Each due thing in a transaction of its own, so that one that fails stops no other."""
    await keep_house(database, now)
    async with database.transaction(patient=True) as tx:
        waiting = await dues.due_now(tx, now)
    for due in waiting:
        try:
            await do_ahead(database, due, now)
            async with database.transaction(patient=True) as tx:
                if await dues.is_due(tx, due, now):
                    await _do(tx, due, now)
        except Exception:
            LOG.exception("%s of session %s failed", due.occasion, due.session_id)
    await repeat_alerts(database, now)
    await ask_members(database, now)
    await send_overviews(database, now)
    await send_summaries(database, now)
    await send_waiting_exports(database, now)
    await sweep(database, now)


async def _do(tx: Transaction, due: Due, now: datetime) -> None:
    """Do it and mark it as done in one transaction: a night of downtime is one long turn."""
    session = await sessions.session(tx, due.session_id)
    plan = await calendar.plan_of(tx, session.plan_id)
    too_late = session.cancelled or now > due.not_after
    if not too_late and await had_better_wait(tx, due, session, now):
        return  # it stays due, so the morning will do it
    if not too_late:
        match due.occasion:
            case Occasion.DIGEST:
                await digests.send_digest(tx, session, now)
            case Occasion.PROMPT:
                await opening.open_all(tx, session, now, due.not_after)
                await shared_questions.ask(tx, session, now, due.not_after)
                await calendar.put_off_reminder(tx, due, plan, now)
            case Occasion.REMINDER:
                nightfall = calendar.nightfall(now, plan.timetable.zone)
                await prompts.remind(tx, session, now, min(due.not_after, nightfall))
    await dues.end_due(tx, due, now, dropped=too_late)
    LOG.info("%s of session %s: %s", due.occasion, session.id, "dropped" if too_late else "done")
