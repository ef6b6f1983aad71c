"""A member's progress, put together for a picture and its caption."""

import logging
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise

from bot.desk.beliefs import progress_of
from bot.desk.calendar import plan_of
from bot.pictures.cards import Against, ProgressCard, RatingMark, StandingRow
from bot.pictures.render import rendered
from bot.storage import members
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.history import reports_of_group
from bot.storage.people import Person
from bot.tasks import aside
from bot.timetable import local
from bot.words import progress as words
from bot.words.speech import Speech
from core.plan import Plan
from core.progress import Progress
from core.reports import Reports
from core.rules import BREAK_DAYS
from core.standing import Standing

LOG = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known of one member in one group, read in one go."""

    group: Group
    member: str
    members: tuple[str, ...]
    plan: Plan
    reports: Reports
    on: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What a member is to be shown of one group."""

    group: Group
    progress: Progress
    picture: bytes | None
    """None as long as there is nothing to see, or if it could not be drawn."""


async def progress_facts(tx: Transaction, person: Person, group: Group, now: datetime) -> Facts:
    """Everything that this member's progress is worked out from."""
    plan = await plan_of(tx, group.plan_id)
    return Facts(
        group=group,
        member=person.id,
        members=tuple(each.id for each in await members.members(tx, group.id)),
        plan=plan.plan,
        reports=await reports_of_group(tx, group.id),
        on=local(now, plan.timetable.zone).date(),
    )


async def draw_progress(facts: Facts, speech: Speech) -> Drawn:
    """Work it out and draw it, in a thread of its own; never inside a transaction."""
    found = await aside(
        progress_of, facts.plan, facts.reports, facts.members, facts.member, facts.on
    )
    picture = await _picture(speech, found, facts.group.name) if found.enough else None
    return Drawn(group=facts.group, progress=found, picture=picture)


async def _picture(speech: Speech, found: Progress, group: str) -> bytes | None:
    try:
        return await rendered(card_of(speech, found, group=group))
    except Exception:
        LOG.exception("a picture could not be drawn")
        return None  # the caption says the same in words


def card_of(speech: Speech, found: Progress, *, group: str) -> ProgressCard:
    """The picture's numbers with their labels."""
    said = words.labels(speech, found)
    return ProgressCard(
        title=said.title,
        group=group,
        ratings_title=said.ratings,
        ratings=_marks(speech, found),
        scale=tuple((float(point), speech.rating(point)) for point in range(0, 11, 2)),
        low=found.low,
        high=found.high,
        range_label=said.aimed_at,
        against_labels=(
            (Against.WITHIN, said.as_planned),
            (Against.ABOVE, said.harder),
            (Against.BELOW, said.easier),
        ),
        standings_title=said.standings,
        standings=tuple(_row(speech, each) for each in found.standings),
        now_label=said.now,
        began_label=said.began,
        step_label=said.step,
        note=said.note,
    )


def _marks(speech: Speech, found: Progress) -> tuple[RatingMark, ...]:
    days = [each.on for each in found.ratings]
    breaks = [False, *((after - before).days >= BREAK_DAYS for before, after in pairwise(days))]
    return tuple(
        RatingMark(
            day=speech.day(each.on),
            effort=each.effort,
            number=speech.rating(each.effort),
            against=_against(each.effort, found),
            after_break=after_break,
        )
        for each, after_break in zip(found.ratings, breaks, strict=True)
    )


def _against(effort: float, found: Progress) -> Against:
    if effort > found.high:
        return Against.ABOVE
    return Against.BELOW if effort < found.low else Against.WITHIN


def _row(speech: Speech, standing: Standing) -> StandingRow:
    return StandingRow(
        name=standing.movement.name,
        variation=standing.variation if len(standing.steps) > 1 else None,
        amounts=words.amounts_words(speech, standing),
        steps=tuple((each.variation, each.at) for each in standing.steps),
        low=standing.now.low,
        middle=standing.now.middle,
        high=standing.now.high,
        began=None if standing.began is None else standing.began.middle,
    )
