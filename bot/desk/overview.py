"""The instructor's picture of a class that is coming: facts read at once, then drawn apart."""

import asyncio
import logging
from dataclasses import dataclass, replace
from datetime import date

from bot.desk.calendar import plan_of
from bot.pictures.cards import Cell, DigestCard, OptionRow, SpreadRow
from bot.pictures.render import rendered
from bot.storage import advice, groups, sessions
from bot.storage.database import Transaction
from bot.storage.groups import Group
from bot.storage.history import reports_of_group
from bot.storage.members import members
from bot.storage.people import Person
from bot.storage.sessions import Session
from bot.words import grid as words
from bot.words.speech import Html, Speech
from core.advice import advise_from, believe
from core.digest import options_of
from core.grid import MOST_CLASSES, Grid, Spread, grid, spreads
from core.plan import Plan
from core.reports import Reports
from core.suggestion import Suggestion

LOG = logging.getLogger(__name__)

ONE_SHEET = 1750
"""Pixels of rows up to which table and movements share a sheet; a taller one would be shrunk by the
chat service until nobody could read it."""
MEMBER, MOVEMENT = 46, 190
"""About how many pixels a row takes."""
MOST_MOVEMENTS = 6
"""On one sheet, for the same reason."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known of a group before a class, read in one go."""

    group: Group
    session: Session
    plan: Plan
    people: tuple[Person, ...]
    reports: Reports
    classes: tuple[tuple[str, date], ...]
    """The last ones that were held, by session."""
    frozen: dict[str, tuple[Suggestion, ...]]
    """What was told already, by member."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What the picture shows, worked out."""

    grid: Grid
    spreads: tuple[Spread, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One picture with its words."""

    picture: bytes
    caption: Html


async def overview_facts(tx: Transaction, session: Session) -> Facts | None:
    """Everything that the picture is worked out from; None before there is anything to see."""
    people = await members(tx, session.group_id)
    classes = await _classes_before(tx, session)
    if not people or not classes:
        return None
    return Facts(
        group=await groups.group(tx, session.group_id),
        session=session,
        plan=(await plan_of(tx, session.plan_id)).plan,
        people=people,
        reports=await reports_of_group(tx, session.group_id),
        classes=classes,
        frozen=await advice.all_kept_advice(tx, session.id),
    )


async def _classes_before(tx: Transaction, session: Session) -> tuple[tuple[str, date], ...]:
    found: list[tuple[str, date]] = []
    before = await sessions.session_before(tx, session)
    while before is not None and len(found) < MOST_CLASSES:
        found.append((before.id, before.local_day))
        before = await sessions.session_before(tx, before)
    return tuple(found)


async def draw_overview(facts: Facts, speech: Speech) -> tuple[Sheet, ...]:
    """Work it out and draw it, in threads of their own; never inside a transaction.

    Nothing if it can't be drawn: the digest's text says what matters.
    """
    try:
        seen = await asyncio.to_thread(see, facts)
        cards = cards_of(speech, facts, seen)
        return tuple([Sheet(picture=await rendered(card), caption=said) for card, said in cards])
    except Exception:
        LOG.exception("the picture of a digest could not be drawn")
        return ()


def see(facts: Facts) -> Seen:
    """Work out what the picture shows; options are the ones that were told, once they were."""
    ids = tuple(person.id for person in facts.people)
    settled, on = facts.reports.settled(), facts.session.local_day
    belief = believe(facts.plan, settled, ids, on)
    called = tuple(each for member in ids for each in facts.frozen.get(member, ()))
    if any(member not in facts.frozen for member in ids):
        fresh = advise_from(belief, facts.plan, settled, ids, on).called
        called += tuple(each for each in fresh if each.member not in facts.frozen)
    return Seen(
        grid=grid(settled, ids, facts.classes, facts.plan.target),
        spreads=spreads(belief, facts.plan, options_of(facts.plan, called)),
    )


def cards_of(speech: Speech, facts: Facts, seen: Seen) -> tuple[tuple[DigestCard, Html], ...]:
    """One sheet for a small group; else the table and the movements apart, with their captions."""
    whole = _card(speech, facts, seen)
    said = words.caption(speech, seen.grid, group=facts.group.name)
    if MEMBER * len(whole.names) + MOVEMENT * len(whole.spreads) <= ONE_SHEET:
        return ((whole, said),)
    also = words.spreads_caption(speech, group=facts.group.name)
    parts = [
        whole.spreads[at : at + MOST_MOVEMENTS]
        for at in range(0, len(whole.spreads), MOST_MOVEMENTS)
    ]
    movements = ((replace(whole, names=(), cells=(), spreads=part), also) for part in parts)
    return ((replace(whole, spreads=()), said), *movements)


def _card(speech: Speech, facts: Facts, seen: Seen) -> DigestCard:
    names = {person.id: person.name for person in facts.people}
    return DigestCard(
        title=words.title(speech),
        group=facts.group.name,
        days=tuple(speech.day(day) for day in seen.grid.days),
        names=tuple(names[row.member] for row in seen.grid.rows),
        cells=tuple(tuple(Cell(felt.value) for felt in row.cells) for row in seen.grid.rows),
        cell_labels=tuple(
            (Cell(felt.value), speech.label(label)) for felt, label in words.FELT.items()
        ),
        spreads_title=words.spreads_title(speech),
        spreads=tuple(_spread(speech, each, facts.plan) for each in seen.spreads),
        person_label=words.person_label(speech),
        option_label=words.option_label(speech, facts.plan.target),
    )


def _spread(speech: Speech, spread: Spread, plan: Plan) -> SpreadRow:
    line = plan.line(spread.movement)
    assert line is not None, "spreads are made from the plan's lines"
    return SpreadRow(
        name=spread.movement,
        options=tuple(
            OptionRow(
                label=words.option_words(speech, each, line.movement),
                at=each.at,
                members=each.members,
            )
            for each in spread.options
        ),
    )
