"""/hurt: report pain or a warning sign at any time; instructors are alerted at once."""

from bot.buttons.personal import HurtButton
from bot.chat.visit import Visit
from bot.desk.alerts import keep_symptom, watch_member
from bot.desk.calendar import plan_of
from bot.storage import dialogues, members, sessions, symptoms
from bot.storage.dialogues import DialogueKind
from bot.storage.groups import Group
from bot.storage.names import name_row
from bot.storage.people import Person
from bot.storage.symptoms import StoredSymptom
from bot.timetable import local
from bot.words import hurting as words
from bot.words import toasts
from core.reports import Symptom, SymptomKind


async def hurt(visit: Visit) -> None:
    """Ask what it is, and offer to end what was reported before."""
    person = visit.person
    if person is None or not await members.groups_of(visit.tx, person):
        await visit.say(words.NOT_HERE(visit.speech))
        return
    await visit.say(words.what_is_it(visit.speech, *await _anew(visit, person)))


async def press(visit: Visit) -> None:
    """One more thing about what hurts; what is known by then is stored at once."""
    button, person = HurtButton.read(visit.data), visit.person
    mine = () if person is None else await members.groups_of(visit.tx, person)
    owner = None if button is None else await _owner(visit, button.id, mine)
    if button is None or person is None or owner not in (None, person.id):
        visit.toast = toasts.NOT_YOURS
        return
    if button.symptom is SymptomKind.WARNING and mine:  # however old the button is
        await _warn(visit, person, mine, button)
    elif button.symptom is None or owner is None:
        await visit.replace(words.what_is_it(visit.speech, *await _anew(visit, person)))
    elif button.group is None and len(mine) > 1:
        named = ((each.id, each.name) for each in mine)
        await visit.replace(words.which_group(visit.speech, button, named))
    else:
        wanted = (each for each in mine if button.group in (None, each.id))
        await _note(visit, person, next(wanted, None), button, button.symptom)


async def _warn(visit: Visit, person: Person, mine: tuple[Group, ...], button: HurtButton) -> None:
    """A warning sign is about everything: all of their instructors are told, and at once."""
    stored = [await _keep(visit, person, each, button, SymptomKind.WARNING, None) for each in mine]
    visit.toast = toasts.GET_HELP
    ids = [each.id for each in stored]
    await visit.replace(words.noted(visit.speech, SymptomKind.WARNING, None, ids))
    await dialogues.end_dialogue(visit.tx, button.id)


async def _note(
    visit: Visit, person: Person, group: Group | None, button: HurtButton, kind: SymptomKind
) -> None:
    if group is None:
        visit.toast = toasts.NOT_YOURS
        return
    session = await sessions.next_session(visit.tx, group.id, visit.now)
    plan = await plan_of(visit.tx, group.plan_id if session is None else session.plan_id)
    names = [line.movement.name for line in plan.plan.lines]
    places = {name_row("movement", each): each for each in names}
    stored = await _keep(visit, person, group, button, kind, places.get(button.where or ""))
    visit.toast = toasts.NOTED
    if button.where == words.NOWHERE or button.where in places:
        told = words.noted(visit.speech, kind, stored.fact.movement, [stored.id])
        await visit.replace(told)
        await dialogues.end_dialogue(visit.tx, button.id)
    else:
        await visit.replace(words.where(visit.speech, button, group.id, places.items()))


async def _owner(visit: Visit, dialogue_id: str, mine: tuple[Group, ...]) -> str | None:
    """Who was asked, or has reported by that question; None if it is closed or unknown."""
    opened = await dialogues.dialogue(visit.tx, dialogue_id)
    if opened is not None:
        return opened.person_id
    for group in mine:
        stored = await symptoms.symptom(visit.tx, name_row("symptom", dialogue_id, group.id))
        if stored is not None:
            return stored.fact.member
    return None


async def _keep(
    visit: Visit,
    person: Person,
    group: Group,
    button: HurtButton,
    kind: SymptomKind,
    movement: str | None,
) -> StoredSymptom:
    """Store what is known now, unless nothing is new about it, and alert."""
    symptom_id = name_row("symptom", button.id, group.id)
    before = await symptoms.symptom(visit.tx, symptom_id)
    if before is not None and before.fact.kind is kind and movement in (None, before.fact.movement):
        return before
    plan = await plan_of(visit.tx, group.plan_id)
    fact = Symptom(
        member=person.id,
        kind=kind,
        on=local(visit.now, plan.timezone).date(),
        said_at=visit.now if before is None else before.fact.said_at,
        movement=movement,
    )
    stored = StoredSymptom(id=symptom_id, group_id=group.id, fact=fact)
    await keep_symptom(visit.tx, stored, visit.now)
    await watch_member(visit.tx, group.id, person, str(visit.update_id), visit.now)
    return stored


async def _anew(visit: Visit, person: Person) -> tuple[str, list[tuple[str, str | None]]]:
    """A new question, and what is open from before."""
    held = [
        (each.id, each.fact.movement)
        for group in await members.groups_of(visit.tx, person)
        for each in await symptoms.symptoms_of_group(visit.tx, group.id, person.id)
        if each.fact.kind is not SymptomKind.SORENESS and each.fact.cleared_by_member is None
    ]
    dialogue = await dialogues.open_dialogue(
        visit.tx, person.id, DialogueKind.HURT, visit.update_id, visit.now
    )
    return dialogue, held
