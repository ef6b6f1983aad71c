"""Where an instructor sets up a group or changes what is planned for it."""

from datetime import timedelta
from unittest.mock import patch

from bot.buttons import ClassButton, ClassesButton, Deed, PlanButton, SessionButton, TrialButton
from bot.buttons.setup import Act, DraftButton, Stage, Step
from core.demands import DemandChange
from tests.exploration.beginning import beginnings
from tests.exploration.scene import Scene
from tests.journeys.evening import PROMPTED
from tests.journeys.founder import about
from tests.journeys.plans import plan_text
from tests.timetable.files import THURSDAYS, calendar, event, moved

FOUNDING, entry = beginnings(leads=True)
PLANK = about("Side plank")
CHANGED = calendar(
    event("a", THURSDAYS, "EXDATE;TZID=Europe/Lisbon:20260917T183000"),
    moved("a", "20260910T183000", "20260911T190000"),
)
TWO_TITLES = calendar(event("a", THURSDAYS), event("b", THURSDAYS, title="Slow yoga"))


async def draft(scene: Scene, act: Act, value: str = "") -> None:
    """Press a button of the plan in progress."""
    await scene.tap(DraftButton, act=act, value=value)


async def go(scene: Scene, stage: Stage, what: str = "") -> None:
    """Go to another page of it."""
    await draft(scene, Act.SHOW, str(Step(stage, what)))


# --- a new group, step by step -------------------------------------------------------------------


@entry("/newgroup", depth=2, least=18, typed=("Slow yoga", "two\nlines"))
async def _new(scene: Scene) -> None:
    await scene.tell("/newgroup")


@entry("/newgroup: days", depth=1, least=10, typed=("every other day",))
async def _days(scene: Scene) -> None:
    await _new(scene)
    await scene.tell("Slow yoga")


@entry("/newgroup: time of day", depth=1, least=6, typed=("6:15 pm", "late"))
async def _clock(scene: Scene) -> None:
    await _days(scene)
    await draft(scene, Act.DAY, "1+")
    await go(scene, Stage.CLOCK)


@entry("/newgroup: length", depth=0, least=6, typed=("75", "long"))
async def _minutes(scene: Scene) -> None:
    await _clock(scene)
    await draft(scene, Act.CLOCK, "1830")


@entry("/newgroup: time zone", depth=1, least=10, typed=("Lisbon", "Nowhere"))
async def _zone(scene: Scene) -> None:
    await _minutes(scene)
    await draft(scene, Act.MINUTES, "50")


@entry("/newgroup: movements", depth=1, least=26, typed=("plank", "handstand"))
async def _library(scene: Scene) -> None:
    await _zone(scene)
    await scene.tell("Lisbon")


@entry("/newgroup: one movement", depth=1, least=43, typed=("2 x 30", "2 x 900", "hm"))
async def _line(scene: Scene) -> None:
    await _library(scene)
    await scene.tell("side plank")


@entry("/newgroup: preview", depth=1, least=32)
async def _preview(scene: Scene) -> None:
    await _line(scene)
    await go(scene, Stage.LINES)
    await go(scene, Stage.TARGET)
    await draft(scene, Act.TARGET, "-:7")


@entry("/newgroup: made", depth=1, least=2)
async def _made(scene: Scene) -> None:
    await _preview(scene)
    await draft(scene, Act.MAKE)


@entry("the trial", depth=1, least=15)
async def _trial(scene: Scene) -> None:
    await _made(scene)
    await scene.tap(TrialButton)


# --- the plan ------------------------------------------------------------------------------------


@entry("/plan", depth=2, least=8)
async def _plan(scene: Scene) -> None:
    await scene.tell("/plan")


@entry("/plan: changed", depth=1, least=21, typed=("3 x 40",))
async def _change(scene: Scene) -> None:
    await _plan(scene)
    await scene.tap(PlanButton)
    await go(scene, Stage.LINE, PLANK)
    await scene.tell("3 x 45")
    await go(scene, Stage.LINES)
    await go(scene, Stage.PREVIEW)


@entry("/plan in two groups", depth=0, least=2)
async def _plan_in_two(scene: Scene) -> None:
    await scene.found(plan_text("Second group"))
    scene.clear_the_desk()
    await scene.tell("/plan")


@entry("a changed plan file", depth=3, least=2)
async def _plan_file(scene: Scene) -> None:
    await scene.send("plan.toml", plan_text(minutes=60, rrule="FREQ=WEEKLY;BYDAY=TU,TH"))


@entry("demands by one tap", depth=3, least=3)
async def _demands(scene: Scene) -> None:
    """The summary after class offers other demands."""
    off = DemandChange(movement="Side plank", variation="knees bent", written=0.6, believed=0.7)
    with patch("bot.schedule.summaries.changes_by_answers", lambda _: (off,)):
        await scene.class_is_over()
        await scene.answer_all()
        scene.clear_the_desk()
        await scene.still.leap(PROMPTED + timedelta(hours=15))
    scene.newest(ClassButton)


# --- inviting, and the timetable -----------------------------------------------------------------


@entry("/invite", depth=3, least=15)
async def _invite(scene: Scene) -> None:
    await scene.tell("/invite")


@entry("/classes", depth=2, least=28, typed=("5.12.2026 18:30",))
async def _classes(scene: Scene) -> None:
    await scene.tell("/classes")


@entry("/classes: another one", depth=2, least=23, typed=("5.12.2026 18:30", "soon"))
async def _another(scene: Scene) -> None:
    await _classes(scene)
    await scene.tap(ClassesButton, adds=True)


@entry("/classes: one is cancelled", depth=3, least=23)
async def _cancel(scene: Scene) -> None:
    await _one(scene)
    await scene.tap(SessionButton, deed=Deed.CANCEL)


@entry("/classes: one is moved", depth=2, least=15, typed=("4.9.2026 19:00", "later"))
async def _move(scene: Scene) -> None:
    await _one(scene)
    await scene.tap(SessionButton, deed=Deed.MOVE)


async def _one(scene: Scene) -> None:
    await _classes(scene)
    await scene.tap_first(SessionButton)


@entry("a calendar file with changes", depth=3, least=2)
async def _calendar(scene: Scene) -> None:
    await scene.send("c.ics", CHANGED)


@entry("a calendar file of two groups with two titles", depth=3, least=2)
async def _titles(scene: Scene) -> None:
    await scene.found(plan_text("Second group"))
    scene.clear_the_desk()
    await scene.send("c.ics", TWO_TITLES)
