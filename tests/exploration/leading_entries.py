"""Where an instructor looks after people: before a class, after it, and in between."""

from datetime import timedelta

from bot.buttons import AlertsButton, DealButton, HurtButton, PersonButton
from bot.buttons.people import Care, Lead, LeadButton
from bot.buttons.watching import Dealing
from core.reports import SymptomKind
from demo_script.stand_in import Person
from tests.exploration.beginning import beginnings
from tests.exploration.scene import Scene
from tests.journeys.evening import PROMPTED, STARTS, WEEK
from tests.journeys.plans import plan_text

LEADING, entry = beginnings(leads=True)
DIGEST = STARTS - timedelta(hours=1)


# --- alerts, digest, summary ---------------------------------------------------------------------


@entry("something hurts", depth=3, least=17)
async def _hurts(scene: Scene) -> None:
    await scene.say("/hurt")
    await scene.press(HurtButton, symptom=SymptomKind.PAIN)


@entry("a warning sign, told again", depth=2, least=8)
async def _warning(scene: Scene) -> None:
    await scene.say("/hurt")
    await scene.press(HurtButton, symptom=SymptomKind.WARNING)
    for minutes in (31, 32):
        await scene.still.leap(scene.still.clock.now() + timedelta(minutes=minutes))


@entry("the digest before class, with alerts", depth=1, least=4)
async def _digest(scene: Scene) -> None:
    await scene.class_is_over()
    await scene.answer_all(c=10, h="pain")
    await scene.still.leap(DIGEST + WEEK)


@entry("/digest", depth=0, least=4)
async def _digest_asked(scene: Scene) -> None:
    await _digest(scene)
    await scene.tell("/digest")


@entry("alerts, one after the other", depth=0, least=6)
async def _alerts(scene: Scene) -> None:
    await _digest(scene)
    await scene.tap(AlertsButton)


@entry("a note on an alert", depth=1, least=5, typed=("Told her why.",))
async def _note_on_alert(scene: Scene) -> None:
    await _alerts(scene)
    await scene.tap(DealButton, what=Dealing.ASK)


@entry("the summary after class", depth=1, least=1)
async def _summary(scene: Scene) -> None:
    await scene.class_is_over()
    await scene.answer_all(c=9)
    await scene.still.leap(PROMPTED + timedelta(hours=15))


@entry("/limits", depth=2, least=25)
async def _limits(scene: Scene) -> None:
    await scene.tell("/limits")


# --- people --------------------------------------------------------------------------------------


@entry("/people", depth=3, least=20)
async def _people(scene: Scene) -> None:
    await scene.tell("/people")


@entry("/people: a name", depth=2, least=6, typed=("Annie", "two\nlines"))
async def _name(scene: Scene) -> None:
    await _card(scene)
    await scene.tap(PersonButton, care=Care.NAME)


@entry("/people: notes", depth=3, least=40, typed=("Left knee.",))
async def _notes(scene: Scene) -> None:
    await _card(scene)
    await scene.tap(PersonButton, care=Care.NOTES)
    await scene.tap(PersonButton, care=Care.NOTE)
    await scene.tell("Prefers the mat by the door.")


@entry("/people: one is removed", depth=3, least=10)
async def _remove(scene: Scene) -> None:
    await _card(scene)
    await scene.tap(PersonButton, care=Care.REMOVE)


@entry("/people: invited by name", depth=2, least=4, typed=("Mira",))
async def _invited(scene: Scene) -> None:
    await scene.tell("/people")
    await scene.tap(LeadButton, lead=Lead.NEWCOMER)


async def _card(scene: Scene) -> None:
    await scene.tell("/people")
    await scene.tap(PersonButton, care=Care.CARD)


@entry("/attendance", depth=4, least=34)
async def _attendance(scene: Scene) -> None:
    await scene.class_is_over()
    scene.clear_the_desk()
    await scene.tell("/attendance")


# --- who leads -----------------------------------------------------------------------------------


async def _who_leads(scene: Scene) -> None:
    await scene.tell("/people")
    await scene.tap(LeadButton, lead=Lead.SHOW)


@entry("who leads", depth=2, least=16)
async def _leads(scene: Scene) -> None:
    await _who_leads(scene)


@entry("who leads: two of them", depth=3, least=84)
async def _two(scene: Scene) -> None:
    await _who_leads(scene)
    await scene.tap(LeadButton, lead=Lead.SHARE)
    olga = scene.still.api.person("Olga")
    olga.open_link(scene.link_given())
    await scene.still.work()
    await _says_yes(scene, olga)
    scene.clear_the_desk()
    await _who_leads(scene)


@entry("who leads: handing over", depth=3, least=37)
async def _hand_over(scene: Scene) -> None:
    await _who_leads(scene)
    await scene.tap(LeadButton, lead=Lead.HAND_OVER)


@entry("who leads: a substitute", depth=2, least=21)
async def _substitute(scene: Scene) -> None:
    await _says_yes(scene, await _asked_to_stand_in(scene))
    scene.clear_the_desk()
    await _who_leads(scene)


@entry("asked to stand in", depth=4, least=3)
async def _to_stand_in(scene: Scene) -> None:
    scene.instructor = await _asked_to_stand_in(scene)


@entry("standing in: the digest, a warning sign", depth=3, least=1)
async def _stands_in(scene: Scene) -> None:
    sam = await _asked_to_stand_in(scene)
    await _says_yes(scene, sam)
    sam.private.messages.clear()
    await scene.still.leap(DIGEST)
    await scene.say("/hurt")
    await scene.press(HurtButton, symptom=SymptomKind.WARNING)
    scene.instructor = sam


async def _asked_to_stand_in(scene: Scene) -> Person:
    """Sam has followed the link that the instructor passed on."""
    await _who_leads(scene)
    await scene.tap(LeadButton, lead=Lead.CLASSES)
    await scene.tap_first(LeadButton, lead=Lead.STAND_IN)
    sam = scene.still.api.person("Sam")
    sam.open_link(scene.link_given())
    await scene.still.work()
    return sam


async def _says_yes(scene: Scene, person: Person) -> None:
    yes = person.last_message.buttons[0][0].data or ""
    await scene.still.press(person, person.last_message, yes)


# --- the rest ------------------------------------------------------------------------------------


@entry("/export", depth=3, least=1)
async def _export(scene: Scene) -> None:
    await scene.tell("/export")


@entry("/export in two groups", depth=0, least=1)
async def _export_in_two(scene: Scene) -> None:
    await scene.found(plan_text("Second group"))
    scene.clear_the_desk()
    await scene.tell("/export")


@entry("the group chat", depth=4, least=1)
async def _group_chat(scene: Scene) -> None:
    await scene.open_group_chat()


@entry("the group chat is offered", depth=3, least=2)
async def _offered(scene: Scene) -> None:
    await scene.offer_group_chat()


@entry("/groupchat", depth=4, least=1)
async def _group_chats(scene: Scene) -> None:
    await scene.open_group_chat()
    scene.clear_the_desk()
    await scene.tell("/groupchat")


@entry("/help", depth=1, least=1)
async def _help(scene: Scene) -> None:
    await scene.tell("/help")


@entry("an instructor's messages, all at once", depth=0, least=15)
async def _at_once(scene: Scene) -> None:
    await _digest(scene)
    for command in ("/plan", "/classes", "/people", "/limits", "/invite", "/attendance"):
        await scene.tell(command)
