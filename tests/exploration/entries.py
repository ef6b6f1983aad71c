"""Every message with which something begins for a member, and how it comes about."""

from datetime import timedelta

from bot.buttons import ShowButton, View
from bot.buttons.personal import HurtButton, PauseButton, Setting, SettingButton
from core.effort import Scale
from core.reports import SymptomKind
from tests.exploration.beginning import beginnings
from tests.exploration.scene import Scene
from tests.journeys.evening import PROMPTED, STARTS, WEEK
from tests.journeys.plans import MOVEMENTS, plan_text

HOLD, REPS, LOAD = (f"[[movement]]\n{each}" for each in MOVEMENTS.split("[[movement]]\n")[1:])
MINUTES = """
[[movement]]
name = "Brisk walk"
measure = "minutes"
standard = "on the flat"
plan = { variation = "on the flat", amount = 20 }
range = [10, 40]
step = 5
[[movement.variation]]
name = "on the flat"
demand = 1.0
"""
BEFORE_CLASS = STARTS - timedelta(minutes=30)
IN_CLASS = STARTS + timedelta(minutes=20)
ENTRIES, entry = beginnings()


# --- the questions after class -------------------------------------------------------------------


@entry("asked about a hold", movements=HOLD, depth=3, least=100)
@entry("asked about repetitions", movements=REPS, depth=2, least=25)
@entry("asked about a load", movements=LOAD, depth=2, least=25)
@entry("asked about minutes", movements=MINUTES, depth=2, least=25)
@entry("asked about three movements", depth=2, least=30)
async def _asked(scene: Scene) -> None:
    await scene.class_is_over()


@entry("asked on 6 to 20 after some weeks", depth=2, least=45)
async def _asked_later(scene: Scene) -> None:
    await scene.say("/settings")
    await scene.press(SettingButton, setting=Setting.SCALE)
    await scene.press(SettingButton, setting=Setting.SCALE, value=Scale.TWENTY)
    for week in range(3):
        await scene.class_is_over(week)
        for text in ("15", "15", "3", "15", "3", "15", "3"):
            await scene.say(text)
    scene.clear_the_screen()
    await scene.class_is_over(3)


@entry("asked once more", depth=2, least=80)
async def _reminded(scene: Scene) -> None:
    await scene.class_is_over()
    for hours in range(1, 24):
        await scene.still.leap(PROMPTED + timedelta(hours=hours))


@entry("asked again after an outage", depth=2, least=80)
async def _outage(scene: Scene) -> None:
    await scene.class_is_over()
    await scene.still.leap(PROMPTED + timedelta(minutes=10))
    await scene.still.outage(PROMPTED + timedelta(minutes=5))


@entry("asked in the group chat too", movements=HOLD, depth=3, least=140)
async def _in_the_group(scene: Scene) -> None:
    await scene.open_group_chat()
    await scene.class_is_over()


@entry("everything is said", movements=HOLD, depth=4, least=30)
async def _said(scene: Scene) -> None:
    await scene.class_is_over()
    await scene.answer_all(h="pain")


@entry("the next class has begun", least=8)
async def _closed(scene: Scene) -> None:
    """A question, a summary and a list of answers, each of a class that is long over."""
    await scene.class_is_over()
    await scene.class_is_over(1)
    await scene.answer_all()
    await scene.class_is_over(2)
    await scene.answer_all()
    await scene.press(ShowButton, view=View.ANSWERS)
    await scene.still.leap(STARTS + 3 * WEEK)


# --- joining, and the next class -----------------------------------------------------------------


@entry("invited", least=18)
async def _invited(scene: Scene) -> None:
    await scene.found(plan_text("Second group"))
    scene.member.open_link(scene.link)
    await scene.still.work()


@entry("invited twice", depth=4, least=10)
async def _invited_twice(scene: Scene) -> None:
    await scene.found(plan_text("Second group"))
    for _ in range(2):
        scene.member.open_link(scene.link)
        await scene.still.work()


@entry("/variant before anything is known", least=18)
async def _variant(scene: Scene) -> None:
    await scene.say("/variant")


@entry("/variant in class", depth=4, least=60)
async def _variant_in_class(scene: Scene) -> None:
    await scene.still.leap(BEFORE_CLASS)
    await scene.still.leap(IN_CLASS)
    await scene.say("/variant")


@entry("/variant with something that hurts, before class", depth=4, least=4)
async def _variant_hurting(scene: Scene) -> None:
    await _report(scene, SymptomKind.PAIN)
    await _report(scene, SymptomKind.WARNING)
    scene.clear_the_screen()
    await scene.say("/variant")


# --- what can be said and set at any time --------------------------------------------------------


@entry("/settings", depth=4, least=100)
async def _settings(scene: Scene) -> None:
    await scene.say("/settings")


@entry("/hurt", depth=4, least=40)
async def _hurt(scene: Scene) -> None:
    await scene.say("/hurt")


@entry("/hurt with something reported before", depth=3, least=35)
async def _hurt_again(scene: Scene) -> None:
    await _report(scene, SymptomKind.PAIN)
    scene.clear_the_screen()
    await scene.say("/hurt")


@entry("/hurt in two groups", depth=4, least=45)
async def _hurt_in_two(scene: Scene) -> None:
    await scene.found(plan_text("Second group"))
    await scene.join()
    scene.clear_the_screen()
    await scene.say("/hurt")


@entry("the instructor has cleared what hurt", least=2)
async def _cleared(scene: Scene) -> None:
    await _report(scene, SymptomKind.PAIN)
    scene.clear_the_screen()
    await scene.instructor_clears()


@entry("/pause", least=9)
async def _pause(scene: Scene) -> None:
    await scene.say("/pause")


@entry("/pause while on one", least=30)
async def _paused(scene: Scene) -> None:
    await scene.say("/pause")
    await scene.press(PauseButton, choice="14")
    await scene.say("/pause")


@entry("/mydata", least=4)
async def _my_data(scene: Scene) -> None:
    await scene.say("/mydata")


@entry("/mydata, with old messages left behind", depth=2, least=120)
async def _my_data_and_more(scene: Scene) -> None:
    for command in ("/settings", "/hurt", "/pause", "/scale", "/mydata"):
        await scene.say(command)


@entry("/scale", least=10)
async def _scale(scene: Scene) -> None:
    await scene.say("/scale")


@entry("ratings and what was left have drifted apart", movements=HOLD, depth=3, least=30)
async def _refreshed(scene: Scene) -> None:
    for week in range(4):
        await scene.class_is_over(week)
        await scene.answer_all(e0=9, r0=60)


@entry("everything at once", depth=1, least=20)
async def _at_once(scene: Scene) -> None:
    await scene.class_is_over()
    for command in ("/variant", "/settings", "/hurt", "/pause", "/mydata", "/scale"):
        await scene.say(command)


async def _report(scene: Scene, kind: SymptomKind) -> None:
    await scene.say("/hurt")
    await scene.press(HurtButton, symptom=kind)
    if kind is SymptomKind.PAIN:
        await scene.still.press(
            scene.member,
            scene.member.last_message,
            scene.member.last_message.buttons[0][0].data or "",
        )
