"""An instructor who sets up a group on a phone; all taps and typed messages are counted."""

from dataclasses import dataclass

from bot.buttons.setup import Act, DraftButton, Stage, Step
from bot.storage.names import name_row
from demo_script.stand_in import Message
from demo_script.stand_in import Person as Account
from tests.journeys.evening import Evening, buttons, data_of
from tests.journeys.transcript import Transcript


def about(movement: str) -> str:
    """What stands for a movement in a button."""
    return name_row("movement", movement)


@dataclass(slots=True, kw_only=True)
class Founder:
    """Ines at her phone."""

    evening: Evening
    taps: int = 0
    typed: int = 0
    transcript: Transcript | None = None

    @property
    def person(self) -> Account:
        """Her account."""
        return self.evening.instructor

    @property
    def page(self) -> Message:
        """The page on screen: the newest message with buttons of a plan in progress."""
        return next(each for each in reversed(self.person.messages) if drafted(each))

    async def says(self, text: str) -> Message:
        """Type something, or a command."""
        self.typed += 1
        said = await self.evening.say(self.person, text)
        self._note()
        return said

    async def tap(self, act: Act, value: str = "") -> str:
        """Press the button that does this on the page; what is told at once."""
        return await self.press(data_of(self.page, DraftButton, act=act, value=value))

    async def go(self, stage: Stage, what: str = "") -> str:
        """Press the button that leads to this page."""
        return await self.tap(Act.SHOW, str(Step(stage, what)))

    async def press(self, data: str, message: Message | None = None) -> str:
        """Press any button."""
        self.taps += 1
        press = await self.evening.press(self.person, data, message or self.page)
        self._note()
        return press.answer.text if press.answer else ""

    async def press_old(self, data: str) -> str:
        """Press a button that isn't on screen any more; what is told at once."""
        press = self.person.press_raw(self.page.message_id, data)
        await self.evening.settle()
        assert press.answer is not None, f"nobody answered the press of {data}"
        return press.answer.text

    def _note(self) -> None:
        if self.transcript is not None:
            self.transcript.note()

    async def typical_group(self) -> None:
        """Two days a week, five movements, some of them changed; up to the preview."""
        await self.says("/newgroup")
        await self.says("Harbour Hall strength")
        await self.tap(Act.DAY, "1+")
        await self.tap(Act.DAY, "3+")
        await self.go(Stage.CLOCK)
        await self.tap(Act.CLOCK, "1830")
        await self.tap(Act.MINUTES, "50")
        await self.says("Lisbon")
        await self.says("plank")
        await self.tap(Act.TAKE, about("Forearm plank"))
        await self.says("2 x 30")
        await self.go(Stage.LIBRARY)
        await self.says("squat")
        await self.tap(Act.TAKE, about("Goblet squat"))
        await self.says("3 x 8 x 12")
        await self.go(Stage.LIBRARY)
        await self.says("push-up")
        await self.tap(Act.VARIATION, f"{about('Push-up')}:1")
        await self.go(Stage.LIBRARY)
        await self.go(Stage.LIBRARY, "2")
        await self.tap(Act.TAKE, about("Side plank"))
        await self.go(Stage.LIBRARY)
        await self.tap(Act.TAKE, about("Dead bug"))
        await self.tap(Act.AMOUNT, f"{about('Dead bug')}:10")
        await self.go(Stage.LINES)
        await self.go(Stage.TARGET)
        await self.tap(Act.TARGET, "-:7")


def drafted(message: Message) -> bool:
    """Whether there is a plan in progress in it."""
    return any(isinstance(each, DraftButton) for each in buttons(message))
