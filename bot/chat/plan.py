"""/plan: the next class's plan, as words and as a file; and changing it."""

from bot.buttons.setup import Act, PlanButton, Stage, Step
from bot.chat.visit import Visit
from bot.desk.draft_moves import Move
from bot.desk.drafting import (
    begin_change,
    held_now,
    put_on_screen,
    resumed,
    was_shown,
    when_of,
)
from bot.desk.handing import file_name, hand
from bot.desk.letters import Errand
from bot.desk.plan_changes import Changed, Coming, change_always, change_once, coming
from bot.planfile import PlanFile, difference, write_plan_file
from bot.planfile.draft import changed_plan, read_draft
from bot.storage import drafts, groups
from bot.storage.drafts import DraftKind, StoredDraft
from bot.storage.people import Person
from bot.words import plans as words
from bot.words import setup as setup_words
from bot.words import toasts
from bot.words.digest import NO_GROUP
from bot.words.joining import STRANGER
from bot.words.plan_changes import changed_meanwhile


async def plan(visit: Visit) -> None:
    """What the next class of each group that I lead consists of; nothing changes by it."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    led = await groups.groups_led_by(visit.tx, visit.person)
    if not led:
        await visit.say(NO_GROUP(visit.speech))
    for group in led:
        held = await coming(visit.tx, group, visit.now)
        await visit.say(
            words.plan_message(
                visit.speech,
                group.id,
                held.plan,
                group=group.name,
                when=when_of(visit.speech, held),
                own=held.own,
            )
        )
        await _hand_file(visit, held)


async def _hand_file(visit: Visit, held: Coming) -> None:
    name = f"{file_name(held.group.name, 'plan')}.toml"
    content = write_plan_file(held.plan).encode()
    errand = Errand(id=f"reply/{visit.update_id}/file/{held.group.id}")
    caption = words.plan_caption(visit.speech)
    await hand(visit.tx, visit.account, name, content, caption, errand, visit.now)


async def change(visit: Visit) -> None:
    """Begin to change a plan, or go on with what was begun."""
    button, person = PlanButton.read(visit.data), visit.person
    if button is None or person is None or not await groups.leads(visit.tx, person, button.id):
        visit.toast = toasts.NOT_YOURS
        return
    await _forget_lost(visit, person)
    held = await coming(visit.tx, await groups.group(visit.tx, button.id), visit.now)
    stored, is_fresh = await begin_change(visit.tx, person, held, visit.update_id, visit.now)
    note = None if is_fresh else setup_words.went_on(visit.speech)
    if stored.group_id != button.id:
        note = setup_words.other_first(visit.speech)
    move = Move(draft=read_draft(stored.document), step=resumed(stored), note=note)
    await visit.replace(await put_on_screen(visit.tx, stored, move, visit.speech, visit.now))


async def _forget_lost(visit: Visit, person: Person) -> None:
    """A draft for a group that somebody else leads by now would be in the way for ever."""
    begun = await drafts.open_draft(visit.tx, person.id, DraftKind.CHANGE)
    lost = begun is not None and not await groups.leads(visit.tx, person, begun.group_id or "")
    if begun is not None and lost:
        await drafts.end_draft(visit.tx, begun.id)


async def apply_change(visit: Visit, stored: StoredDraft, act: Act) -> None:
    """The change becomes true, if its instructor has just seen what it is."""
    held = await held_now(visit.tx, stored, visit.now)
    draft = read_draft(stored.document)
    if held is None or not was_shown(stored, held):
        note = changed_meanwhile(visit.speech)
        move = Move(draft=draft, step=Step(Stage.PREVIEW), note=note)
        await visit.replace(await put_on_screen(visit.tx, stored, move, visit.speech, visit.now))
        return
    wanted = changed_plan(held.plan, draft)
    if difference(held.plan, wanted).is_nothing:
        visit.toast = toasts.OUTDATED
        return
    changed = await change_plan(visit, held, wanted, f"draft/{stored.id}", once=act is Act.ONCE)
    if changed is None:
        visit.toast = toasts.OUTDATED
        return
    await drafts.end_draft(visit.tx, stored.id)


async def change_plan(
    visit: Visit,
    held: Coming,
    wanted: PlanFile,
    reason: str,
    *,
    once: bool,
    document: str | None = None,
) -> Changed | None:
    """Let a plan count, for one class or from now on, and say so; None if there is no class."""
    if once:
        changed = await change_once(visit.tx, held, wanted, reason, visit.now)
    else:
        changed = await change_always(visit.tx, held, wanted, reason, visit.now, document)
    if changed is None:
        return None
    session, zone = changed.session, changed.plan.timezone
    when = None if session is None else visit.speech.moment(session.starts_at, zone)
    await visit.replace(
        words.plan_changed(visit.speech, changed.plan, when=when, once=once, called=changed.called)
    )
    return changed
