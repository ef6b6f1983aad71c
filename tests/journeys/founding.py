"""An instructor sets up a group, tries it out, and changes one class; as a transcript."""

from datetime import timedelta

from bot.buttons import TrialButton
from bot.buttons.setup import Act, PlanButton, Stage
from demo_script.stand_in import Message
from tests.journeys.evening import MONDAY, Evening, buttons, data_of
from tests.journeys.founder import Founder, about
from tests.journeys.transcript import Transcript


class WithoutClock(Transcript):
    """A transcript of one sitting, which says nothing about the minutes that it takes."""

    def _moment(self) -> None:
        pass


async def first_hour(evening: Evening) -> str:
    """From nothing to a group, with what goes wrong on the way."""
    transcript = WithoutClock(evening=evening, person=evening.instructor)
    founder = Founder(evening=evening, transcript=transcript)
    await evening.claim()
    transcript.note()
    await _says_when_and_where(founder)
    await _chooses_movements(founder)
    await founder.go(Stage.TARGET)
    await founder.tap(Act.TARGET, "-:7")
    await founder.tap(Act.MAKE)
    await _tries_it_out(founder)
    await _changes_the_next_class(founder)
    return transcript.text()


async def _says_when_and_where(founder: Founder) -> None:
    await founder.says("/newgroup")
    await founder.says("Harbour Hall strength")
    await founder.says("every other day")
    await founder.tap(Act.DAY, "1+")
    await founder.tap(Act.DAY, "3+")
    await founder.go(Stage.CLOCK)
    await founder.says("6:15 pm")
    await founder.evening.leap(MONDAY + timedelta(minutes=5))  # the next page shows clocks
    await founder.tap(Act.MINUTES, "50")
    await founder.says("Lisbon")


async def _chooses_movements(founder: Founder) -> None:
    plank, press = about("Side plank"), about("Overhead press")
    await founder.says("handstand")
    await founder.says("plank")
    await founder.tap(Act.TAKE, plank)
    await founder.tap(Act.VARIATION, f"{plank}:0")
    await founder.says("2 x 300")
    await founder.says("2 x 30")
    await founder.says("overhead press")
    await founder.says("3 x 8 x 12")
    await founder.go(Stage.TARGET, press)
    await founder.tap(Act.TARGET, f"{press}:6.5")
    await founder.go(Stage.LINES)


async def _tries_it_out(founder: Founder) -> None:
    made = _with(founder, TrialButton)
    await founder.press(data_of(made, TrialButton), made)
    for question, value in (("c", "7"), ("e0", "8"), ("r0", "5"), ("h", "fine")):
        asked = _with(founder, TrialButton)
        answer = next(
            each
            for each in buttons(asked)
            if isinstance(each, TrialButton)
            and [(str(said), by) for said, by in each.said[-1:]] == [(question, value)]
        )
        await founder.press(answer.write(), asked)


async def _changes_the_next_class(founder: Founder) -> None:
    plank = about("Side plank")
    await founder.says("/plan")
    shown = _with(founder, PlanButton)
    await founder.press(data_of(shown, PlanButton), shown)
    await founder.go(Stage.LINE, plank)
    await founder.tap(Act.VARIATION, f"{plank}:1")
    await founder.go(Stage.LINES)
    await founder.go(Stage.PREVIEW)
    await founder.tap(Act.ONCE)


def _with(founder: Founder, kind: type[TrialButton] | type[PlanButton]) -> Message:
    """The newest message with such a button."""
    return next(
        each
        for each in reversed(founder.person.messages)
        if any(isinstance(button, kind) for button in buttons(each))
    )
