"""Plans in progress as they are kept: begun, looked up, and put on screen."""

from dataclasses import replace
from datetime import datetime

from bot.buttons.setup import Stage, Step
from bot.desk.calendar import plan_of
from bot.desk.draft_moves import Move, following, line_named, movement_id
from bot.desk.plan_changes import Coming, coming
from bot.planfile import Draft, difference
from bot.planfile.draft import changed_plan, draft_of, read_draft, write_draft
from bot.storage import drafts, groups
from bot.storage.database import Transaction
from bot.storage.drafts import DraftKind, StoredDraft
from bot.storage.people import Person
from bot.words import setup as words
from bot.words.message import Message
from bot.words.plan_changes import change_page
from bot.words.setup_library import found_page, library_page, lines_page
from bot.words.setup_line import drop_page, line_page, target_page
from bot.words.speech import Speech
from bot.words.zones import offered_zones
from core import library

OF_A_LINE = (Stage.LINE, Stage.DROP, Stage.TARGET)
"""Steps that may be about one movement."""
OF_A_CHANGE = (*OF_A_LINE, Stage.LINES, Stage.REST)
"""Steps that there are where a plan changes, besides the library and the preview."""
NO_TYPING = (Stage.PREVIEW, Stage.DROP, Stage.REST)
"""Where there is nothing to be typed, so that it is taken for something else."""


async def begin_setup(tx: Transaction, person: Person, reason: int, now: datetime) -> StoredDraft:
    """A new group in progress: the one that was begun, or a fresh one."""
    begun = await drafts.open_draft(tx, person.id, DraftKind.SETUP)
    if begun is not None:
        return begun
    step = str(Step(Stage.NAME))
    document = write_draft(Draft())
    return await drafts.begin_draft(tx, person.id, DraftKind.SETUP, document, step, reason, now)


async def begin_change(
    tx: Transaction, person: Person, held: Coming, reason: int, now: datetime
) -> tuple[StoredDraft, bool]:
    """Another plan in progress, for that group unless one was begun; and whether it is fresh."""
    begun = await drafts.open_draft(tx, person.id, DraftKind.CHANGE)
    if begun is not None:
        return begun, False
    fresh = await drafts.begin_draft(
        tx,
        person.id,
        DraftKind.CHANGE,
        write_draft(draft_of(held.plan)),
        str(Step(Stage.LINES)),
        reason,
        now,
        group_id=held.group.id,
        plan_id=held.plan_id,
    )
    return fresh, True


def resumed(stored: StoredDraft) -> Step:
    """Where to go on with a plan in progress."""
    step = Step.read(stored.step)
    if step is not None and step.stage is not Stage.REST:
        return step
    if stored.kind is DraftKind.CHANGE:
        return Step(Stage.LINES)
    return following(read_draft(stored.document))


async def put_on_screen(
    tx: Transaction, stored: StoredDraft, move: Move, speech: Speech, now: datetime
) -> Message:
    """Keep what was said, and give the page that is to be seen now."""
    held = await held_now(tx, stored, now)
    step = _possible(move, held)
    sketch = words.Sketch(
        speech=speech,
        id=stored.id,
        draft=move.draft,
        group=None if held is None else held.group.name,
        now=now,
        ids=_ids(move.draft),
        note=move.note,
    )
    if step.stage is Stage.REST:
        page = words.rest_page(sketch, resumed(stored))
    elif step.stage is Stage.ZONE:
        zones = move.zones or await _zones(tx, stored.person_id, speech)
        page = words.zone_page(sketch, zones)
    elif step.stage is Stage.PREVIEW:
        page = _preview(sketch, held)
    else:
        page = _page(sketch, step, move)
    kept = replace(stored, document=write_draft(move.draft), step=str(step))
    if held is not None and step.stage is Stage.PREVIEW:
        kept = replace(kept, plan_id=held.plan_id)  # this is what it was compared with
    await drafts.keep_draft(tx, kept, now, typing=step.stage not in NO_TYPING)
    return page


async def held_now(tx: Transaction, stored: StoredDraft, now: datetime) -> Coming | None:
    """The plan that a draft would change, as it is now; None for a new group."""
    if stored.group_id is None:
        return None
    return await coming(tx, await groups.group(tx, stored.group_id), now)


def was_shown(stored: StoredDraft, held: Coming | None) -> bool:
    """Whether its instructor has just seen what would come true, and nothing has changed since."""
    if held is None:
        return stored.step == str(Stage.PREVIEW)
    return stored.step == str(_preview_of(held)) and stored.plan_id == held.plan_id


def _preview_of(held: Coming) -> Step:
    """The preview names the class that it is about."""
    return Step(Stage.PREVIEW, "" if held.session is None else held.session.id)


def _possible(move: Move, held: Coming | None) -> Step:
    """The step that is wanted; where it can't be shown, the nearest one that can."""
    step, draft = move.step, move.draft
    if step.about and step.stage in OF_A_LINE and line_named(draft, step.about) is None:
        return Step(Stage.LINES)
    if step.stage is Stage.LIBRARY:
        return step if step.about.isdigit() else Step(Stage.LIBRARY)
    if held is None:
        whole = step.stage is not Stage.PREVIEW or draft.is_whole
        return (
            Step(step.stage, step.about if step.stage in OF_A_LINE else "")
            if whole
            else following(draft)
        )
    if step.stage is Stage.PREVIEW and draft.lines:
        return _preview_of(held)
    return step if step.stage in OF_A_CHANGE else Step(Stage.LINES)


def _page(sketch: words.Sketch, step: Step, move: Move) -> Message:
    line = line_named(sketch.draft, step.about)
    match step.stage:
        case Stage.NAME:
            return words.name_page(sketch)
        case Stage.DAYS:
            return words.days_page(sketch)
        case Stage.CLOCK:
            return words.clock_page(sketch)
        case Stage.MINUTES:
            return words.minutes_page(sketch)
        case Stage.LIBRARY if move.names is not None:
            return found_page(sketch, move.typed, move.names)
        case Stage.LIBRARY:
            return library_page(sketch, library.names(), int(step.about or 0))
        case Stage.LINE if line is not None:
            return line_page(sketch, line)
        case Stage.DROP if line is not None:
            return drop_page(sketch, line)
        case Stage.TARGET:
            return target_page(sketch, line)
        case _:
            return lines_page(sketch)


def _preview(sketch: words.Sketch, held: Coming | None) -> Message:
    if held is None:
        return words.preview_page(sketch)
    found = difference(held.plan, changed_plan(held.plan, sketch.draft))
    return change_page(sketch, found, when_of(sketch.speech, held))


def when_of(speech: Speech, held: Coming) -> str | None:
    """When the next class is, in words; None if there is none."""
    session = held.session
    return None if session is None else speech.moment(session.starts_at, held.plan.timezone)


def _ids(draft: Draft) -> dict[str, str]:
    names = (*library.names(), *(line.movement.name for line in draft.lines))
    return {name: movement_id(name) for name in names}


async def _zones(tx: Transaction, person_id: str, speech: Speech) -> tuple[str, ...]:
    """Where the groups are that there are already, their own first; then the usual places."""
    known: list[str] = []
    for group in await groups.all_groups(tx):
        zone = (await plan_of(tx, group.plan_id)).timezone
        own = person_id in {each.id for each in await groups.leaders(tx, group.id)}
        known.insert(0, zone) if own else known.append(zone)
    return offered_zones(speech, known)
