"""Messages about setting up groups and changing plans, with the longest facts they may hold."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import time

from bot.buttons.setup import Stage, Step
from bot.planfile import Draft, difference
from bot.words import groups, inviting, plan_changes, plans, setup, trial
from bot.words.message import Message
from bot.words.setup_library import found_page, library_page, lines_page
from bot.words.setup_line import drop_page, line_page, target_page
from bot.words.setup_typed import full, name_taken, no_zone, not_understood
from bot.words.speech import Html, Speech
from bot.words.zones import USUAL
from core import library
from core.plan import Plan
from core.questions import Question, Topic
from tests.bot.words import longest
from tests.bot.words.longest import AT, ID, LINK, ON, WHEN

ZONE = "America/Argentina/Buenos_Aires"


def about_plans(speech: Speech, kind: str) -> dict[str, Iterable[Message]]:
    """Each message by the name of the function that makes it."""
    name, plan, dates = longest.name(kind), longest.plan_file(kind), (WHEN,) * 3
    other = replace(plan, name=longest.name(kind, 1), minutes=45, plan=_other(kind))
    found = difference(plan, other)
    return {
        "group_made": [groups.group_made(speech, ID, plan, dates, LINK)],
        "file_refused": [groups.file_refused(speech, longest.problems(kind))],
        "plan_message": [
            plans.plan_message(speech, ID, plan, group=name, when=when, own=True)
            for when in (None, WHEN)
        ],
        "plan_changed": [
            plans.plan_changed(speech, plan, when=when, once=once, called=True)
            for when in (None, WHEN)
            for once in (False, True)
        ],
        "replace_question": [plan_changes.replace_question(speech, name, found, WHEN, ID)],
        "invite": [inviting.invite(speech, ID, name, LINK, ON)],
        "another_link": [inviting.another_link(speech, ID, name)],
        "trial_over": [trial.trial_over(speech, ID)],
        "trial_question": list(_trial(speech, kind)),
        **_pages(speech, kind),
    }


def _pages(speech: Speech, kind: str) -> dict[str, Iterable[Message]]:
    """The pages of a plan in progress, each with the longest note above it."""
    new, change = (_sketch(speech, kind, group=each) for each in (None, longest.name(kind, 2)))
    found = difference(longest.plan_file(kind), replace(longest.plan_file(kind), plan=_other(kind)))
    nothing = difference(longest.plan_file(kind), longest.plan_file(kind))
    lines = new.draft.lines
    return {
        "name_page": [setup.name_page(new)],
        "days_page": [setup.days_page(new)],
        "clock_page": [setup.clock_page(new)],
        "minutes_page": [setup.minutes_page(new)],
        "zone_page": [setup.zone_page(new, sum(USUAL.values(), ()))],
        "preview_page": [setup.preview_page(new)],
        "rest_page": [setup.rest_page(each, Step(Stage.LINE, ID)) for each in (new, change)],
        "library_page": [library_page(each, library.names(), 9) for each in (new, change)],
        "found_page": [
            found_page(each, longest.name(kind), names)
            for each in (new, change)
            for names in ((), library.names())
        ],
        "lines_page": [lines_page(each) for each in (new, change)],
        "line_page": [line_page(new, line) for line in lines],
        "drop_page": [drop_page(new, line) for line in lines],
        "target_page": [
            target_page(each, line) for each in (new, change) for line in (None, lines[1])
        ],
        "change_page": [
            plan_changes.change_page(change, each, when)
            for each in (found, nothing)
            for when in (None, WHEN)
        ],
    }


def _sketch(speech: Speech, kind: str, *, group: str | None) -> setup.Sketch:
    plan = longest.plan(kind)
    names = (*library.names(), *(line.movement.name for line in plan.lines))
    return setup.Sketch(
        speech=speech,
        id=ID,
        draft=Draft(
            name=longest.name(kind),
            days=tuple(range(7)),
            clock=time(18, 30),
            minutes=90,
            timezone=ZONE,
            target=plan.target,
            ceiling=plan.ceiling,
            lines=plan.lines,
        ),
        group=group,
        now=AT,
        ids=dict.fromkeys(names, ID),
        note=max(notes(speech, kind), key=len),
    )


def notes(speech: Speech, kind: str) -> Iterator[Html]:
    """What may stand above a page."""
    line = longest.plan(kind).lines[0]
    yield from (not_understood(speech, stage, line) for stage in Stage)
    yield from (name_taken(speech, longest.name(kind)), no_zone(speech, longest.name(kind)))
    yield from (full(speech), setup.went_on(speech), setup.other_first(speech))
    yield plan_changes.changed_meanwhile(speech)


def captions_of_plans(speech: Speech, kind: str) -> Iterator[Html]:
    """What stands under a plan file, and under the picture of a link."""
    yield plans.plan_caption(speech)
    yield inviting.qr_caption(speech, longest.name(kind))


def _trial(speech: Speech, kind: str) -> Iterator[Message]:
    occasion = longest.occasion(speech, kind)
    said = ((Question(Topic.SESSION), "skipped"), (Question(Topic.EFFORT, 0), "unfinished"))
    for topic in (Topic.SESSION, Topic.EFFORT, Topic.RESERVE, Topic.HURT):
        place = 0 if topic in (Topic.EFFORT, Topic.RESERVE) else None
        yield trial.trial_question(occasion, ID, said, Question(topic, place))


def _other(kind: str) -> Plan:
    """A plan in which everything is different."""
    plan = longest.plan(kind)
    changed = tuple(
        replace(line, dose=longest.dose(line.movement, 2), target=6.5) for line in plan.lines[:6]
    )
    added = tuple(
        replace(line, movement=replace(line.movement, name=longest.name(kind, 50 + at)))
        for at, line in enumerate(plan.lines[6:])
    )
    return replace(plan, lines=(*changed[::-1], *added), target=5.5)
