"""The next class as one member is told it, wherever they ask for it."""

from collections.abc import Mapping
from datetime import date, datetime

from bot.desk.advice import Ready, told
from bot.desk.calendar import plan_of
from bot.desk.voice import speech_to
from bot.storage import symptoms, verdicts
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words import variant as words
from bot.words.message import Message
from core.reports import SymptomKind
from core.suggestion import ReasonKind, Suggestion
from core.verdict import Verdict, effort_of


async def own_class(
    tx: Transaction,
    person: Person,
    group: Group,
    session: Session,
    now: datetime,
    ready: Ready | None = None,
) -> Message:
    """What they do in that class and why, with what they may say about it while it is on.

    `ready` is what was worked out a moment ago, if it was, so that nobody waits for it now.
    """
    plan, speech = await plan_of(tx, session.plan_id), speech_to(person)
    held = [
        (each.id, each.fact.movement)
        for each in await symptoms.symptoms_of_group(tx, group.id, person.id)
        if each.fact.kind is not SymptomKind.SORENESS and each.fact.cleared_by_member is None
    ]
    suggestions = await told(tx, session, person, ready)
    said = await verdicts.verdicts_of(tx, group.id, person.id)
    return words.variant_message(
        speech,
        group=group.name,
        group_id=group.id,
        when=speech.moment(session.starts_at, plan.timezone),
        plan=plan.plan,
        told=suggestions,
        called={each.movement: v for each in suggestions if (v := _called(each, said)) is not None},
        symptoms=held,
        running=session.id if session.starts_at <= now else None,
    )


def _called(suggestion: Suggestion, said: Mapping[tuple[str, date], Verdict]) -> Verdict | None:
    """Whether the evidence is no number, but that they called it too hard or too easy in class."""
    reason = suggestion.reason
    if reason.on is None or reason.kind is not ReasonKind.RATING or reason.reserve is not None:
        return None
    verdict = said.get((suggestion.movement, reason.on))
    return verdict if verdict is not None and effort_of(verdict) == reason.effort else None
