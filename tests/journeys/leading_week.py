"""An instructor's ordinary week, in any language; every button is found by what it does."""

import re
from collections.abc import Mapping
from datetime import timedelta
from unittest.mock import patch

from bot.buttons import (
    AlertsButton,
    AttendanceButton,
    Button,
    ClassButton,
    DealButton,
    Deed,
    PersonButton,
    SeenButton,
    SessionButton,
    ThresholdButton,
)
from bot.buttons.people import Care, Lead, LeadButton, Presence
from bot.buttons.watching import AboutClass, Dealing
from core.demands import DemandChange
from core.thresholds import CHOICES, Threshold
from demo_script.stand_in import Message
from tests.journeys.evening import ENDS, PROMPTED, STARTS, Evening, buttons, data_of
from tests.journeys.newcomer import NAMES, plan_in
from tests.journeys.transcript import Transcript

MONDAY_CLASS = STARTS + timedelta(days=4)
FRIDAY = STARTS + timedelta(hours=16)
TYPED: Mapping[str, tuple[str, str, str]] = {
    "en": ("Likes the mat by the door.", "7 Sept 19:15", "Told her that 7 is plenty."),
    "es": ("Prefiere su sitio junto a la puerta.", "7/9 19:15", "Le he dicho que con un 7 basta."),
    "de": ("Mag die Matte an der Tür.", "7.9. 19:15", "Ihr gesagt, dass 7 reicht."),
}
"""A note about a person, another time for a class, a note about an alert."""


class Leader:
    """Ines, who has led the group for a while."""

    def __init__(self, evening: Evening, language: str) -> None:
        self.evening = evening
        self.language = language
        self.person = evening.instructor
        self.transcript = Transcript(evening=evening, person=self.person)

    async def waits(self, moment: timedelta) -> None:
        """Time passes, counted from the start of the first class."""
        await self.evening.leap(STARTS + moment)
        self.transcript.note()

    async def says(self, text: str) -> None:
        """Write to the bot."""
        await self.evening.say(self.person, text)
        self.transcript.note()

    async def taps(self, kind: type[Button], **having: object) -> None:
        """Press the first button that does this, in the newest message that has one."""
        message, data = self._newest(kind, having)
        await self.evening.press(self.person, data, message)
        self.transcript.note()

    def _newest(self, kind: type[Button], having: Mapping[str, object]) -> tuple[Message, str]:
        for message in reversed(self.person.messages):
            for each in buttons(message):
                if isinstance(each, kind) and all(getattr(each, k) == v for k, v in having.items()):
                    return message, each.write()
        raise AssertionError(f"no {kind.__name__} with {having}")


async def ordinary_week(evening: Evening, language: str) -> str:
    """From the digest before one class to the export after the next, as a transcript."""
    evening.instructor.account.language = language
    await evening.found(plan_in(language))
    await evening.join("Ana", "Ben", "Cleo", "Dora", language=language)
    ines = Leader(evening, language)
    ines.transcript.note()
    ines.transcript.lines.clear()
    await _teaches(ines)
    await _looks_after_people(ines)
    await _changes_the_timetable(ines)
    await _finds_a_substitute(ines)
    await _prepares(ines)
    await _looks_at_limits_and_exports(ines)
    return ines.transcript.text()


async def _teaches(ines: Leader) -> None:
    await ines.waits(timedelta(minutes=-60))
    evening, members = ines.evening, ines.evening.members
    names = NAMES[ines.language]
    off = DemandChange(
        movement=names.get("Side plank", "Side plank"),
        variation=names.get("knees bent", "knees bent"),
        written=0.6,
        believed=0.7,
    )
    with patch("bot.schedule.summaries.changes_by_answers", lambda _: (off,)):
        await evening.leap(PROMPTED)
        await evening.answer_all(members["Ana"], c=10)
        await evening.answer_all(members["Ben"], h="pain", w=1)
        ines.transcript.note()
        await ines.taps(SeenButton)
        await evening.answer_all(members["Cleo"], c=6)
        await ines.waits(FRIDAY - STARTS)
    await ines.taps(ClassButton, what=AboutClass.APPLY)


async def _looks_after_people(ines: Leader) -> None:
    await ines.says("/attendance")
    await ines.taps(AttendanceButton, presence=Presence.THERE)
    await ines.says("/people")
    await ines.taps(PersonButton, care=Care.CARD)
    await ines.taps(PersonButton, care=Care.NOTES)
    await ines.taps(PersonButton, care=Care.NOTE)
    await ines.says(TYPED[ines.language][0])


async def _changes_the_timetable(ines: Leader) -> None:
    await ines.waits(timedelta(days=2))
    for deeds in ((Deed.CANCEL, Deed.CANCELLED, Deed.RESTORE), (Deed.MOVE,)):
        await ines.says("/classes")
        await ines.taps(SessionButton, deed=Deed.SHOW, at=MONDAY_CLASS)
        for deed in deeds:
            await ines.taps(SessionButton, deed=deed)
    await ines.says(TYPED[ines.language][1])
    await ines.taps(SessionButton, deed=Deed.MOVED)


async def _finds_a_substitute(ines: Leader) -> None:
    await ines.says("/people")
    await ines.taps(LeadButton, lead=Lead.SHOW)
    await ines.taps(LeadButton, lead=Lead.CLASSES)
    await ines.taps(LeadButton, lead=Lead.STAND_IN)
    sam = ines.evening.api.person("Sam", ines.language)
    said = " ".join(each.text for each in ines.person.messages)
    sam.open_link(re.findall(r"https://t\.me/\S+", said)[-1])
    await ines.evening.settle()
    await ines.evening.press(sam, data_of(sam.last_message, LeadButton, lead=Lead.ACCEPT))
    ines.transcript.note()


async def _prepares(ines: Leader) -> None:
    await ines.waits(MONDAY_CLASS - STARTS - timedelta(hours=4))
    await ines.says("/digest")
    await ines.taps(AlertsButton)
    await ines.taps(DealButton, what=Dealing.ASK)
    await ines.says(TYPED[ines.language][2])


async def _looks_at_limits_and_exports(ines: Leader) -> None:
    await ines.waits(ENDS - STARTS + timedelta(days=5))
    await ines.says("/limits")
    threshold = next(iter(Threshold))
    await ines.taps(ThresholdButton, threshold=threshold, value=None)
    await ines.taps(ThresholdButton, threshold=threshold, value=CHOICES[threshold][-1])
    await ines.says("/export")
    await ines.waits(ENDS - STARTS + timedelta(days=5, minutes=5))
