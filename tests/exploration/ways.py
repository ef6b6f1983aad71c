"""What a member can do in a state, and what came of it."""

from dataclasses import dataclass, replace
from datetime import datetime

from bot.buttons import (
    AnswerButton,
    Button,
    ClassesButton,
    DraftButton,
    EstimateButton,
    PauseButton,
    SessionButton,
    TapButton,
    ThresholdButton,
    read_button,
)
from bot.buttons.personal import Setting, SettingButton
from bot.buttons.setup import Act, Step
from bot.words import toasts
from core.questions import SESSION, Topic
from demo_script.stand_in import Message, Person
from tests.exploration.likeness import band
from tests.exploration.standstill import Standstill

TYPED_AT_A_QUESTION = ("7,5", "8, side plank 9", "hm")
REFUSALS = {each.sentence for each in (toasts.CLOSED, toasts.OUTDATED, toasts.NOT_YOURS)}
UNSEEN = "nothing was to be seen"
TYPED_AT_A_PAUSE = ("24.12.2026", "soon")


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One thing to do: a button under a message, or something typed."""

    message: Message | None = None
    data: str = ""
    label: str = ""
    text: str = ""

    def __str__(self) -> str:
        """As it would be told."""
        return f"[{self.label}]" if self.message else repr(self.text)


class Ways:
    """What there is to do: under a message of a new kind everything, then one of each kind."""

    def __init__(self, typed: tuple[str, ...] = ()) -> None:
        self._always_typed = typed
        self._tried: set[tuple[object, ...]] = set()
        self.kinds: set[type[Button]] = set()
        """Every kind of button that was met."""

    def of(self, shown: list[Message]) -> list[Way]:
        """Every button that can be pressed, and what might be typed where typing is an answer.

        Numbers of one band lead to states that are the same. Where all numbers of such a keyboard
        were pressed before, one of each band is enough.
        """
        found = [way for message in shown for way in self._under(message)]
        read = [read_button(each.data) for each in found]
        kinds = {type(each) for each in read if each is not None}
        self.kinds |= kinds
        typed = [*(TYPED_AT_A_QUESTION if AnswerButton in kinds else self._always_typed)]
        typed += TYPED_AT_A_PAUSE if PauseButton in kinds else ()
        return [*found, *(Way(text=text) for text in typed)]

    def _under(self, message: Message) -> list[Way]:
        buttons = [each for row in message.buttons for each in row if each.data is not None]
        found = [Way(message=message, data=each.data or "", label=each.label) for each in buttons]
        keyboard = tuple(face_of(each.data) for each in found)
        if keyboard in self._tried:
            return list({kind_of(each.data): each for each in found}.values())
        self._tried.add(keyboard)
        return found


def kind_of(data: str) -> object:
    """The same for buttons that lead to states that are the same."""
    match button := read_button(data):
        case AnswerButton(number=float(number)) if button.question.topic is not Topic.WHERE:
            return button.prompt, button.question, band(button.question, number)
        case SettingButton(setting=Setting.QUIET_FROM | Setting.QUIET_UNTIL, value=str()):
            return button.setting
        case EstimateButton(offer=int()):
            return replace(button, offer=0)
        case TapButton(number=int(number)):
            return button.id, band(SESSION, number)
        case ThresholdButton(value=int()):
            return button.threshold
        case ClassesButton(at=datetime()):
            return replace(button, at=None)
        case SessionButton(to=datetime()):
            return replace(button, to=None)
        case DraftButton():
            return face_of(data)
        case _:
            return button


def face_of(data: str) -> object:
    """The same for buttons that do the same to a plan in progress, whatever the value."""
    button = read_button(data)
    if not isinstance(button, DraftButton):
        return data
    step = Step.read(button.value) if button.act is Act.SHOW else None
    return button.act, None if step is None else step.stage


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of it, for the one who did it."""

    troubles: tuple[str, ...]
    """What went wrong inside, and what was left unanswered."""
    toast: str
    ends: tuple[str, ...]
    """Texts of new or changed messages under which nothing can be pressed."""


async def take(still: Standstill, person: Person, way: Way) -> Outcome:
    """Do it, and look at everything."""
    before = _seen(still, person)
    answered = still.line.asked["answerCallbackQuery"]
    still.log.found.clear()
    still.line.refused.clear()
    troubles, toast, opened = [], "", None
    if way.message is None:
        await still.say(person, way.text)
    else:
        press = await still.press(person, way.message, way.data)
        if press.answer is None:
            troubles.append("nobody answered")
        else:
            toast, opened = press.answer.text, press.answer.url
        answers = still.line.asked["answerCallbackQuery"] - answered
        troubles += [] if answers == 1 else [f"answered {answers} times"]
        # A page that typing left behind keeps its buttons: to change it could undo a second tap's
        # answer, such as the link of the group that was just made.
        left_behind = isinstance(read_button(way.data), DraftButton)
        dead = (
            not left_behind and toast in REFUSALS and way.data in _datas(still, person, way.message)
        )
        if dead and is_known(still, person):
            troubles.append(f"a dead button: {toast}")
    after = _seen(still, person)
    news = [each for key, each in after.items() if before.get(key) != each]
    if not (news or toast or opened):
        troubles.append(UNSEEN)
    return Outcome(
        troubles=(*troubles, *still.log.found, *still.line.refused),
        toast=toast,
        ends=tuple(each.text or "<file>" for each in news if not each.buttons),
    )


def is_known(still: Standstill, person: Person) -> bool:
    """Whether the bot knows them; of whoever was erased, old buttons are all that is left."""
    found = still.connection.rows(f"SELECT 1 FROM person WHERE account = {person.person_id}")  # noqa: S608
    return bool(found)


def _datas(still: Standstill, person: Person, message: Message) -> set[str | None]:
    now = _seen(still, person).get((message.chat_id, message.message_id))
    return set() if now is None else {each.data for row in now.buttons for each in row}


def _seen(still: Standstill, person: Person) -> dict[tuple[int, int], Message]:
    """Everything of ours that this person sees."""
    bot = still.api.world.bot.account_id
    chats = [person.private, *(each.chat for each in still.groups.values())]
    return {
        (chat.chat_id, number): message
        for chat in chats
        for number, message in chat.messages.items()
        if message.sender_id == bot
    }
