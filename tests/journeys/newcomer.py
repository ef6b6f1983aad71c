"""A newcomer's first two weeks, in any language; every button is found by what it does."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from bot.buttons import (
    AnswerButton,
    Button,
    EstimateButton,
    JoinButton,
    LessonButton,
    ShowButton,
    View,
)
from bot.buttons.lesson import VerdictButton
from bot.buttons.personal import HurtButton, Setting, SettingButton
from core.questions import Topic
from core.reports import SymptomKind
from core.verdict import Verdict
from demo_script.stand_in import Message
from tests.journeys.evening import (
    ENDS,
    PROMPTED,
    STARTS,
    Evening,
    answer_data,
    asked,
    buttons,
    data_of,
)
from tests.journeys.plans import plan_text
from tests.journeys.transcript import Transcript

THIRD = STARTS + timedelta(days=7)
NAMES: Mapping[str, Mapping[str, str]] = {
    "en": {},
    "es": {
        "Harbour Hall strength": "Fuerza en el puerto",
        "Side plank": "Plancha lateral",
        "knees bent": "rodillas dobladas",
        "feet stacked": "pies juntos",
        "Push-up": "Flexión de brazos",
        "on the knees": "de rodillas",
        "on the floor": "en el suelo",
        "Squat with a weight": "Sentadilla con peso",
        "to a chair": "hasta la silla",
        "to parallel": "hasta la horizontal",
    },
    "de": {
        "Harbour Hall strength": "Kraft am Hafen",
        "Side plank": "Seitstütz",
        "knees bent": "Knie gebeugt",
        "feet stacked": "Füße aufeinander",
        "Push-up": "Liegestütz",
        "on the knees": "auf den Knien",
        "on the floor": "am Boden",
        "Squat with a weight": "Kniebeuge mit Gewicht",
        "to a chair": "bis zum Stuhl",
        "to parallel": "bis zur Waagerechten",
    },
}
"""What an instructor who speaks the language would write into the plan file."""


MOVEMENT_NAMES = ("Side plank", "Push-up", "Squat with a weight")
MOST_QUESTIONS = 20
"""A conversation that is longer goes round in circles."""


def plan_in(language: str) -> str:
    """A group that meets twice a week, in that language."""
    plan = plan_text(rrule="FREQ=WEEKLY;BYDAY=MO,TH")
    for name, own in NAMES[language].items():
        plan = plan.replace(name, own)
    return plan


def is_prompt(message: Message) -> bool:
    """Whether it asks about a class, or says what was understood."""
    return any(isinstance(each, AnswerButton | ShowButton) for each in buttons(message))


class Newcomer:
    """Mira, who has never used a bot."""

    def __init__(self, evening: Evening, language: str) -> None:
        self.evening = evening
        self.language = language
        self.person = evening.api.person("Mira", language)
        self.transcript = Transcript(evening=evening, person=self.person)

    async def waits(self, moment: datetime) -> None:
        """Time passes."""
        await self.evening.leap(moment)
        self.transcript.note()

    async def says(self, text: str) -> None:
        """Write to the bot."""
        await self.evening.say(self.person, text)
        self.transcript.note()

    @property
    def prompt(self) -> Message:
        """The newest questions about a class; newer messages may stand below."""
        return next(each for each in reversed(self.person.messages) if is_prompt(each))

    async def taps(self, kind: type[Button], **having: object) -> None:
        """Press the one button that does this."""
        await self._press(data_of(self.person.last_message, kind, **having))

    async def answers(self, question: str, value: float | str) -> None:
        """Press an answer to the question on screen."""
        await self._press(answer_data(self.prompt, question, value), self.prompt)

    async def estimates(self, offer: int | None) -> None:
        """Tap one of the amounts offered, or that it isn't known."""
        shown = [
            each for each in buttons(self.person.last_message) if isinstance(each, EstimateButton)
        ]
        offers = [each for each in shown if each.offer is not None]
        skip = EstimateButton(offers[0].group, offers[0].place + 1)
        await self._press((skip if offer is None else offers[offer]).write())

    def highest(self) -> float:
        """The largest number that can be tapped as an answer."""
        shown = [each for each in buttons(self.prompt) if isinstance(each, AnswerButton)]
        return max(each.number for each in shown if each.number is not None)

    async def practises(self, place: int, tenths: int) -> None:
        """Rate a scene of the lesson, and go on."""
        await self.taps(LessonButton, place=place, tenths=tenths)
        await self.taps(LessonButton, place=place + 1, tenths=None)

    async def _press(self, data: str, message: Message | None = None) -> None:
        await self.evening.press(self.person, data, message)
        self.transcript.note()


async def first_two_weeks(evening: Evening, language: str) -> str:
    """From the invitation to the first picture, as a transcript."""
    evening.instructor.account.language = language
    await evening.found(plan_in(language))
    mira = Newcomer(evening, language)
    await _joins(mira)
    await _looks_around(mira)
    await _answers_by_button(mira)
    await _learns_the_scale(mira)
    await _answers_by_typing(mira)
    await _finds_something_too_hard(mira)
    await _answers_late(mira)
    await _reports_and_looks_back(mira)
    return mira.transcript.text()


async def _joins(mira: Newcomer) -> None:
    mira.person.open_link(mira.evening.link)
    await mira.evening.settle()
    mira.transcript.note()
    await mira.taps(JoinButton, yes=True)
    await mira.taps(EstimateButton)
    for offer in (3, None, 2):
        await mira.estimates(offer)


async def _looks_around(mira: Newcomer) -> None:
    await mira.waits(datetime(2026, 9, 1, 19, 0, tzinfo=UTC))
    for command in ("/help", "/privacy", "/settings"):
        await mira.says(command)
    await mira.taps(SettingButton, setting=Setting.LANGUAGE)
    await mira.taps(SettingButton, setting=Setting.LANGUAGE, value=mira.language)
    for minutes in (60, 30):
        await mira.waits(STARTS - timedelta(minutes=minutes))
    await mira.says("/variant")


async def _answers_by_button(mira: Newcomer) -> None:
    await mira.waits(PROMPTED)
    await mira.answers("c", 6)
    while (question := asked(mira.prompt)) is not None:
        match question.topic:
            case Topic.EFFORT:
                await mira.answers(str(question), "unfinished" if question.place == 1 else 6)
            case Topic.RESERVE:
                await mira.answers(str(question), 5)
            case Topic.COMPLETED:
                await mira.answers(str(question), mira.highest())
            case _:
                await mira.answers(str(question), "fine")
    await mira.taps(ShowButton, view=View.ANSWERS)
    await mira.taps(ShowButton, view=View.SUMMARY)


async def _learns_the_scale(mira: Newcomer) -> None:
    await mira.waits(ENDS + timedelta(days=1))
    await mira.says("/scale")
    await mira.taps(LessonButton)
    for place, tenths in enumerate((20, 60, 40, 100)):
        await mira.practises(place, tenths)


async def _answers_by_typing(mira: Newcomer) -> None:
    await mira.waits(STARTS + timedelta(days=4, hours=-1))
    await mira.waits(PROMPTED + timedelta(days=4))
    await mira.says("ok")
    await mira.says("7" if mira.language == "en" else "7,5")
    for _ in range(MOST_QUESTIONS):
        question = asked(mira.prompt)
        if question is None:
            return
        match question.topic:
            case Topic.EFFORT:
                name = movement_in(mira.prompt, mira.language).lower()
                await mira.says(f"{name} 8" if question.place == 0 else "7")
            case Topic.RESERVE:
                await mira.says("4")
            case _:
                await mira.answers(str(question), "fine")
    raise AssertionError("the questions go round in circles")


def movement_in(message: Message, language: str) -> str:
    """The movement that a question is about, by the name that stands in it."""
    names = [NAMES[language].get(name, name) for name in MOVEMENT_NAMES]
    return next(name for name in names if name in message.text)


async def _finds_something_too_hard(mira: Newcomer) -> None:
    for minutes in (-60, 20):
        await mira.waits(THIRD + timedelta(minutes=minutes))
    await mira.says("/variant")
    await mira.taps(VerdictButton, verdict=Verdict.HARD, place=None)
    await mira.taps(VerdictButton, place=1)


async def _answers_late(mira: Newcomer) -> None:
    for hours in (1, 3, 12, 16, 20):
        await mira.waits(THIRD + timedelta(hours=hours))
    await mira.answers("c", 9)
    while (question := asked(mira.prompt)) is not None:
        hurts = question.topic is Topic.HURT
        await mira.answers(str(question), "soreness" if hurts else "skipped")


async def _reports_and_looks_back(mira: Newcomer) -> None:
    await mira.waits(THIRD + timedelta(days=2))
    await mira.says("/hurt")
    await mira.taps(HurtButton, symptom=SymptomKind.SORENESS)
    where = [each for each in buttons(mira.person.last_message) if isinstance(each, HurtButton)]
    await mira.taps(HurtButton, where=where[0].where)
    await mira.says("/progress")
    await mira.says("/variant")
