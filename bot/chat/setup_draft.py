"""A plan in progress: what is tapped and typed, one page after the other, in one message."""

from bot.buttons.setup import Act, DraftButton, Stage, Step
from bot.chat import plan, setup
from bot.chat.visit import Visit
from bot.desk.draft_moves import Move, tapped, typed
from bot.desk.drafting import put_on_screen, resumed
from bot.planfile.draft import read_draft
from bot.storage import drafts, groups
from bot.storage.drafts import DraftKind, StoredDraft
from bot.storage.people import Person
from bot.words import setup as words
from bot.words import toasts
from bot.words.message import Message
from bot.words.setup_typed import name_taken


async def press(visit: Visit) -> None:
    """A button says what is to be; it may be old, tapped twice, or in the wrong hands."""
    button, person = DraftButton.read(visit.data), visit.person
    stored = (
        None
        if button is None or person is None
        else await drafts.draft_of(visit.tx, button.draft, person.id)
    )
    if button is None or person is None or stored is None:
        visit.toast = toasts.OUTDATED
        return
    if not await _may_still(visit, person, stored):
        visit.toast = toasts.NOT_YOURS
        return
    match button.act:
        case Act.DISCARD:
            await _discard(visit, stored)
        case Act.MAKE if stored.kind is DraftKind.SETUP:
            await setup.make(visit, person, stored)
        case Act.ONCE | Act.ALWAYS if stored.kind is DraftKind.CHANGE:
            await plan.apply_change(visit, stored, button.act)
        case _:
            await _go_on(visit, stored, button)


async def _may_still(visit: Visit, person: Person, stored: StoredDraft) -> bool:
    if stored.group_id is None:
        return person.is_owner
    return await groups.leads(visit.tx, person, stored.group_id)


async def _discard(visit: Visit, stored: StoredDraft) -> None:
    """Only from the page that asks for it, so that no old button takes anything away."""
    if stored.step != str(Stage.REST):
        move = Move(draft=read_draft(stored.document), step=Step(Stage.REST))
        await visit.replace(await _page(visit, stored, move))
        return
    await drafts.end_draft(visit.tx, stored.id)
    await visit.replace(words.DISCARDED(visit.speech))


async def _go_on(visit: Visit, stored: StoredDraft, button: DraftButton) -> None:
    draft, is_new = read_draft(stored.document), stored.kind is DraftKind.SETUP
    move = tapped(visit.speech, draft, button.act, button.value, new=is_new)
    if move is None:
        visit.toast = toasts.OUTDATED
        move = Move(draft=draft, step=resumed(stored))
    elif move.draft == draft and _place(move.step) == _place(Step.read(stored.step)):
        visit.toast = toasts.ON_SCREEN
        if move.step.stage is Stage.REST:
            return  # a second tap: where to go on stays as it was
    await visit.replace(await _page(visit, stored, move))


def _place(step: Step | None) -> tuple[Stage, str] | None:
    """The first page of several is the one without a number, too."""
    return None if step is None else (step.stage, step.about or "0")


async def typed_in(visit: Visit, person: Person, stored: StoredDraft) -> None:
    """Something was typed for the page on screen; the next page comes as a new message."""
    if not await _may_still(visit, person, stored):
        await drafts.end_draft(visit.tx, stored.id)
        await visit.say(words.DISCARDED(visit.speech))
        return
    draft, is_new = read_draft(stored.document), stored.kind is DraftKind.SETUP
    step = Step.read(stored.step) or resumed(stored)
    move = typed(visit.speech, draft, step, visit.text, visit.now, new=is_new)
    name = move.draft.name
    if is_new and name != draft.name and name and await setup.is_taken(visit, person, name):
        move = Move(draft=draft, step=step, note=name_taken(visit.speech, name))
    await visit.say(await _page(visit, stored, move))


async def rest(visit: Visit, stored: StoredDraft) -> None:
    """Leave it for later."""
    move = Move(draft=read_draft(stored.document), step=Step(Stage.REST))
    await visit.say(await _page(visit, stored, move))


async def _page(visit: Visit, stored: StoredDraft, move: Move) -> Message:
    return await put_on_screen(visit.tx, stored, move, visit.speech, visit.now)
