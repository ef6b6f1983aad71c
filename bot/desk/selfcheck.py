"""How a member's ratings fit what they had left, and a word about it, at most monthly."""

from datetime import datetime, timedelta

from bot.desk.calendar import plan_of
from bot.desk.letters import Errand, say
from bot.desk.voice import speech_to
from bot.storage import groups, pulse
from bot.storage.database import Transaction
from bot.storage.history import reports_of_group
from bot.storage.outbox import Kind, Priority
from bot.storage.people import Person
from bot.words.lesson import refresher_message
from core.selfcheck import Direction, Fit, SelfCheck, check_ratings

AT_MOST_EVERY = timedelta(days=30)


async def own_check(tx: Transaction, group_id: str, person: Person) -> SelfCheck | None:
    """How this member's ratings in that group fit what they had left; None until there's enough."""
    group = await groups.group(tx, group_id)
    plan = await plan_of(tx, group.plan_id)
    reports = await reports_of_group(tx, group_id, member=person.id)
    return check_ratings(reports, plan.plan, person.id)


async def refresh(tx: Transaction, group_id: str, person: Person, now: datetime) -> None:
    """Say a kind word if ratings and what was left drift apart, and not again for a month."""
    beat = pulse.refresher_beat(person.id)
    last = await pulse.last_beat(tx, beat)
    if last is not None and now - last < AT_MOST_EVERY:
        return
    check = await own_check(tx, group_id, person)
    if check is None or not _drifted(check):
        return
    await pulse.note_beat(tx, beat, now)
    message = refresher_message(speech_to(person), group_id, check)
    errand = Errand(id=f"{beat}/{now:%Y%m%d}", priority=Priority.DIGEST, kind=Kind.CONFIRMATION)
    await say(tx, person.account, message, errand, now)


def _drifted(check: SelfCheck) -> bool:
    return check.fit in (Fit.HIGHER, Fit.LOWER) or check.direction is Direction.APART
