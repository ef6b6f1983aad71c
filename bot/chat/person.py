"""One member: look at their card, rename, note, remove, and take a removal back."""

from bot.buttons.people import Care, PersonButton
from bot.chat.leading import led_group
from bot.chat.visit import Visit
from bot.desk.roster import card_of
from bot.desk.voice import speech_to
from bot.storage import notes, people
from bot.storage import roster as stored
from bot.storage.dialogues import stop_typing
from bot.storage.groups import Group
from bot.storage.jottings import Jotting, JottingKind, begin_jotting
from bot.storage.people import Person
from bot.words import notes as note_words
from bot.words import person as words
from bot.words import toasts
from bot.words.person import Card

TYPED = {Care.NAME: JottingKind.NAME, Care.NOTE: JottingKind.NOTE}


async def press(visit: Visit) -> None:
    """A button on a member's card; the group that it names says whether it may be pressed."""
    button = PersonButton.read(visit.data)
    group = None if button is None else await led_group(visit, button.group)
    if button is None or group is None or visit.person is None:
        visit.toast = toasts.NOT_YOURS
        return
    card = await _card(visit, group, button.person)
    if card is None:
        visit.toast = toasts.OUTDATED
        return
    await stop_typing(visit.tx, visit.person.id)
    match button.care:
        case Care.NAME | Care.NOTE:
            await _ask(visit, visit.person, card, button.care)
        case Care.NOTES | Care.ERASE_NOTE | Care.NOTE_ERASED:
            await _notes(visit, group, card, button)
        case Care.REMOVE | Care.REMOVED | Care.RETURN:
            await _belonging(visit, group, card, button.care)
        case Care.CHAT_NAME:
            await stored.call_member(visit.tx, group.id, card.person, None)
            await _show(visit, group, card.person)
        case Care.CARD:
            await visit.replace(words.card_message(visit.speech, card))


async def _ask(visit: Visit, person: Person, card: Card, care: Care) -> None:
    """What is typed next answers this."""
    jotting = Jotting(kind=TYPED[care], group_id=card.group_id, about=card.person)
    await begin_jotting(visit.tx, person.id, jotting, visit.now)
    ask = words.ask_name if care is Care.NAME else note_words.ask_note
    await visit.replace(ask(visit.speech, card))


async def _notes(visit: Visit, group: Group, card: Card, button: PersonButton) -> None:
    if button.care is Care.NOTES:
        await visit.replace(note_words.notes_message(visit.speech, card))
        return
    note = next((each for each in card.notes if each.id == button.note), None)
    if note is None:
        visit.toast = toasts.OUTDATED
    elif button.care is Care.ERASE_NOTE:
        await visit.replace(note_words.erase_note_question(visit.speech, card, note))
    else:
        await notes.erase_note(visit.tx, note.id)
        visit.toast = note_words.ERASED
        left = await _card(visit, group, card.person)
        if left is not None:
            await visit.replace(note_words.notes_message(visit.speech, left))


async def _belonging(visit: Visit, group: Group, card: Card, care: Care) -> None:
    """Whether they take part; both ways they are told, once for each change."""
    if care is Care.REMOVE:
        await visit.replace(words.remove_question(visit.speech, card))
        return
    member = (await people.people_by_id(visit.tx, group.id))[card.person]
    if care is Care.REMOVED:
        if await stored.remove_member(visit.tx, group.id, card.person, visit.now):
            goodbye = words.you_were_removed(speech_to(member), group.name)
            await visit.say(goodbye, to=member)
        await visit.replace(words.removed(visit.speech, card))
    elif await stored.take_back_removal(visit.tx, group.id, card.person):
        await visit.say(words.you_are_back(speech_to(member), group.name), to=member)
        visit.toast = words.BACK_AGAIN
        await _show(visit, group, card.person)
    else:
        visit.toast = toasts.OUTDATED


async def _show(visit: Visit, group: Group, person_id: str) -> None:
    card = await _card(visit, group, person_id)
    if card is not None:
        await visit.replace(words.card_message(visit.speech, card))


async def _card(visit: Visit, group: Group, person_id: str) -> Card | None:
    entry = await stored.entry(visit.tx, group.id, person_id, visit.now)
    if entry is None:
        return None
    return await card_of(visit.tx, group, entry, visit.speech, visit.now)
