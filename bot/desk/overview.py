"""The instructor's picture of a class that is coming, one or a few sheets of it."""

import asyncio
import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from bot.desk.digest_facts import Facts, WorkedOut
from bot.pictures.cards import Cell, DigestCard, OptionRow, SpreadRow
from bot.pictures.render import rendered
from bot.words import grid as words
from bot.words.speech import Html, Speech
from core.grid import Grid, Spread, grid, spreads
from core.plan import Plan

LOG = logging.getLogger(__name__)

ONE_SHEET = 1750
"""Pixels of rows up to which table and movements share a sheet; a taller one would be shrunk by the
chat service until nobody could read it."""
MEMBER, MOVEMENT = 46, 190
"""About how many pixels a row takes."""
MOST_MOVEMENTS = 6
"""On one sheet, for the same reason."""


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


async def draw_overviews(
    worked: WorkedOut, speeches: Sequence[Speech]
) -> Mapping[str, tuple[Sheet, ...]]:
    """The pictures by language, drawn in threads of their own; never inside a transaction.

    Nothing before the first class, or if it can't be drawn: the digest's text says what matters.
    """
    if worked.digest is None or not worked.facts.classes:
        return {}
    try:
        seen = await asyncio.to_thread(see, worked)
        return {speech.language: await _draw(worked.facts, seen, speech) for speech in speeches}
    except Exception:
        LOG.exception("the picture of a digest could not be drawn")
        return {}


async def _draw(facts: Facts, seen: Seen, speech: Speech) -> tuple[Sheet, ...]:
    cards = cards_of(speech, facts, seen)
    return tuple([Sheet(picture=await rendered(card), caption=said) for card, said in cards])


def see(worked: WorkedOut) -> Seen:
    """What the picture shows; options are the ones that were told, once they were."""
    facts, plan = worked.facts, worked.facts.plan.plan
    ids = tuple(person.id for person in facts.people)
    return Seen(
        grid=grid(facts.reports, ids, facts.classes, plan.target),
        spreads=spreads(worked.belief, plan, worked.told.options),
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
        spreads=tuple(_spread(speech, each, facts.plan.plan) for each in seen.spreads),
        person_label=words.person_label(speech),
        option_label=words.option_label(speech, facts.plan.plan.target),
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
