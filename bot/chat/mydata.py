"""/mydata: everything that is stored about me, to keep or to erase."""

from bot.buttons.personal import DataButton
from bot.chat.visit import Visit
from bot.desk.beliefs import forget_beliefs
from bot.desk.exporting import send_export
from bot.desk.letters import Errand, change, say
from bot.storage import dialogues, groups
from bot.storage.dialogues import DialogueKind
from bot.storage.erased import remember_erased
from bot.storage.erasure import erase_person
from bot.storage.people import Person
from bot.words import mydata as words
from bot.words import toasts
from bot.words.joining import STRANGER


async def my_data(visit: Visit) -> None:
    """What can be done with it."""
    if visit.person is None:
        await visit.say(STRANGER(visit.speech))
        return
    await visit.say(words.my_data(visit.speech, visit.person.id))


async def press(visit: Visit) -> None:
    """Export, ask about erasing, or erase."""
    button, person = DataButton.read(visit.data), visit.person
    if button is None or person is None:
        visit.toast = toasts.NOT_YOURS
    elif button.choice in ("yes", "no"):
        await _answered(visit, person, button)
    elif button.id != person.id:
        visit.toast = toasts.NOT_YOURS
    elif button.choice == "export":
        visit.toast = toasts.ON_ITS_WAY
        await send_export(visit.tx, person, str(visit.update_id), visit.now)
    else:
        await _ask(visit, person)


async def _ask(visit: Visit, person: Person) -> None:
    led = await groups.groups_led_by(visit.tx, person)
    if led:
        await visit.say(words.leads_still(visit.speech, [each.name for each in led]))
        return
    dialogue = await dialogues.open_dialogue(
        visit.tx, person.id, DialogueKind.ERASE, visit.update_id, visit.now
    )
    await visit.replace(words.erase_question(visit.speech, dialogue))


async def _answered(visit: Visit, person: Person, button: DataButton) -> None:
    opened = await dialogues.dialogue(visit.tx, button.id)
    if opened is not None and (
        opened.person_id != person.id or opened.kind is not DialogueKind.ERASE
    ):
        visit.toast = toasts.OUTDATED
    elif opened is None:
        visit.toast = toasts.OUTDATED
        kept = button.choice == "no"
        await visit.replace(
            words.KEPT(visit.speech) if kept else words.my_data(visit.speech, person.id)
        )
    elif button.choice == "no":
        await dialogues.end_dialogue(visit.tx, opened.id)
        await visit.replace(words.KEPT(visit.speech))
    elif led := await groups.groups_led_by(visit.tx, person):  # since the question
        await dialogues.end_dialogue(visit.tx, opened.id)
        await visit.replace(words.leads_still(visit.speech, [each.name for each in led]))
    else:
        await _erase(visit, person)


async def _erase(visit: Visit, person: Person) -> None:
    """Everything goes; the receipt is the last letter, and leaves nothing behind either."""
    erased = await erase_person(visit.tx, person, visit.now, update_id=visit.update_id)
    await remember_erased(visit.tx, person.account, visit.now)
    forget_beliefs()
    receipt = words.receipt(
        visit.speech,
        groups=erased.groups,
        classes=erased.classes,
        answers=erased.answers,
        symptoms=erased.symptoms,
    )
    errand = Errand(id=f"receipt/{visit.update_id}", passing=True)
    if visit.pressed is None:
        await say(visit.tx, visit.account, receipt, errand, visit.now)
        return
    await change(
        visit.tx,
        visit.account,
        receipt,
        errand,
        visit.now,
        letter=errand.id,
        message_id=visit.pressed,
    )
