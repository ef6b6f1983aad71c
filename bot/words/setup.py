"""A group set up step by step: its name, times and place, each a message with buttons."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from typing import TypeVar

from bot.buttons.setup import Act, DraftButton, Stage, Step
from bot.planfile import Draft
from bot.timetable import local
from bot.words.message import Key, Message, plain, short
from bot.words.plans import plan_words
from bot.words.speech import Html, Speech, bold, in_its_direction, later, lines
from bot.words.timetables import clock_words, day_name, day_words
from bot.words.zones import city

Row = tuple[Key, ...]
Chosen = TypeVar("Chosen")

CLOCKS = (
    time(7), time(8), time(9), time(10), time(12), time(16), time(17), time(17, 30),
    time(18), time(18, 30), time(19), time(19, 30), time(20), time(20, 30),
)  # fmt: skip
"""When classes start, as offered; every other time can be typed."""
MINUTES = (30, 45, 50, 60, 75, 90)
IN_A_ROW = 4
STEPS = (
    Stage.NAME, Stage.DAYS, Stage.CLOCK, Stage.MINUTES, Stage.ZONE, Stage.LINES, Stage.TARGET,
    Stage.PREVIEW,
)  # fmt: skip
"""The way through a new group, in its order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """A plan in progress, as its instructor sees it."""

    speech: Speech
    id: str
    draft: Draft
    group: str | None
    """The group whose plan changes; None for a new one."""
    now: datetime
    ids: Mapping[str, str]
    """Of movements, by name, for the buttons."""
    note: Html | None = None
    """What is said above the next page, such as what was wrong with what was typed."""

    def key(self, label: str, act: Act, value: str = "") -> Key:
        """A button that does something to it."""
        return Key(short(label), DraftButton(self.id, act, value))

    def show(self, label: str, stage: Stage, about: str = "") -> Key:
        """A button that leads to another page."""
        return self.key(label, Act.SHOW, str(Step(stage, about)))

    def choice(self, label: str, act: Act, value: str, *, now: bool) -> Key:
        """Something that can be chosen; what holds now is ticked."""
        return self.key(f"✓ {in_its_direction(label)}" if now else label, act, value)

    def page(
        self, text: Html, rows: Iterable[Row], *, stage: Stage, back: Step | None = None
    ) -> Message:
        """One page with where it is, and the ways back and out."""
        label = self.speech.label
        ways = [self.show(label("Back"), back.stage, back.about)] if back else []
        ways.append(self.show(label("Stop here"), Stage.REST))
        return Message(
            text=lines(self.note, None if self.note is None else "", self._head(stage), "", text),
            rows=(*rows, tuple(ways)),
            personal=False,
        )

    def _head(self, stage: Stage) -> Html:
        if self.group is not None:
            return bold(self.group)
        name = bold(self.draft.name or self.speech.label("A new group"))
        at = STEPS.index(stage) + 1
        return self.speech.text("{group} · step {at} of {all}", group=name, at=at, all=len(STEPS))


def name_page(sketch: Sketch) -> Message:
    """What the group is called."""
    text = sketch.speech.text("What is the group called? Type the name that its members will see.")
    keys = () if sketch.draft.name is None else (_on(sketch, Stage.DAYS),)
    return sketch.page(text, (keys,) if keys else (), stage=Stage.NAME)


def days_page(sketch: Sketch) -> Message:
    """On which days it meets."""
    speech, chosen = sketch.speech, sketch.draft.days
    text = speech.text(
        "On which days does it meet? Tap them, or type them, such as: {example}",
        example=day_words(speech, (0, 3)),
    )
    keys = [
        sketch.choice(
            day_name(speech, day),
            Act.DAY,
            f"{day}{'-' if day in chosen else '+'}",
            now=day in chosen,
        )
        for day in range(7)
    ]
    on = ((_on(sketch, Stage.CLOCK),),) if chosen else ()
    return sketch.page(text, (*in_rows(keys), *on), stage=Stage.DAYS, back=Step(Stage.NAME))


def clock_page(sketch: Sketch) -> Message:
    """At what time it starts."""
    speech = sketch.speech
    text = speech.text("At what time does it start? Tap a time, or type it, such as 18:15.")
    keys = [
        sketch.choice(
            clock_words(speech, at), Act.CLOCK, f"{at:%H%M}", now=at == sketch.draft.clock
        )
        for at in _with(sketch.draft.clock, CLOCKS)
    ]
    return sketch.page(text, in_rows(keys), stage=Stage.CLOCK, back=Step(Stage.DAYS))


def minutes_page(sketch: Sketch) -> Message:
    """How long it lasts."""
    text = sketch.speech.text("How many minutes does a class last? Tap them, or type them.")
    keys = [
        sketch.choice(str(each), Act.MINUTES, str(each), now=each == sketch.draft.minutes)
        for each in _with(sketch.draft.minutes, MINUTES)
    ]
    return sketch.page(text, in_rows(keys), stage=Stage.MINUTES, back=Step(Stage.CLOCK))


def zone_page(sketch: Sketch, zones: Iterable[str]) -> Message:
    """Where the clock hangs; each choice shows what its clock shows now."""
    speech = sketch.speech
    text = speech.text(
        "Where does it meet? The times are what clocks show there now. If yours isn't among them, "
        "type a city or a country, or the time that your clock shows."
    )
    chosen = sketch.draft.timezone
    keys = [
        sketch.choice(_zone_label(sketch, each), Act.ZONE, each, now=each == chosen)
        for each in dict.fromkeys((*([chosen] if chosen else []), *zones))
    ]
    return sketch.page(text, ((key,) for key in keys), stage=Stage.ZONE, back=Step(Stage.MINUTES))


def preview_page(sketch: Sketch) -> Message:
    """The whole group, before it is made."""
    speech, label, draft = sketch.speech, sketch.speech.label, sketch.draft
    text = lines(
        speech.text("This is the group. Shall I make it?"),
        "",
        when_words(sketch),
        plan_words(speech, draft.plan),
    )
    changes = (
        sketch.show(label("Change the name"), Stage.NAME),
        sketch.show(label("Change the days"), Stage.DAYS),
        sketch.show(label("Change the time"), Stage.CLOCK),
        sketch.show(label("Change the length"), Stage.MINUTES),
        sketch.show(label("Change the place"), Stage.ZONE),
        sketch.show(label("Change the movements"), Stage.LINES),
    )
    return sketch.page(
        text,
        ((sketch.key(label("Make the group"), Act.MAKE),), *in_rows(changes, 2)),
        stage=Stage.PREVIEW,
        back=Step(Stage.TARGET),
    )


def when_words(sketch: Sketch) -> Html:
    """Days, time, place and length, as far as they are known."""
    speech, draft = sketch.speech, sketch.draft
    return speech.text(
        "{days}, {clock} ({city}), {minutes} minutes",
        days=day_words(speech, draft.days),
        clock=clock_words(speech, draft.clock or time()),
        city=city(speech, draft.timezone or ""),
        minutes=draft.minutes or 0,
    )


def rest_page(sketch: Sketch, go_on: Step) -> Message:
    """It was left for later; nothing is lost."""
    speech = sketch.speech
    text = (
        speech.text("I've kept what you have said so far. /newgroup goes on from here.")
        if sketch.group is None
        else speech.text(
            "Nothing has changed for {group}. I've kept your draft; /plan goes on from here.",
            group=bold(sketch.group),
        )
    )
    return Message(
        text=text,
        rows=(
            (sketch.show(speech.label("Go on"), go_on.stage, go_on.about),),
            (sketch.key(speech.label("Throw the draft away"), Act.DISCARD),),
        ),
        personal=False,
    )


def in_rows(keys: Sequence[Key], most: int = IN_A_ROW) -> tuple[Row, ...]:
    """Keys beside each other, so many in a row."""
    return tuple(tuple(keys[at : at + most]) for at in range(0, len(keys), most))


def _on(sketch: Sketch, stage: Stage) -> Key:
    return sketch.show(sketch.speech.label("Next"), stage)


def _with(chosen: Chosen | None, offered: tuple[Chosen, ...]) -> tuple[Chosen, ...]:
    """What is offered, with what was chosen at its head if it isn't among it."""
    return offered if chosen is None or chosen in offered else (chosen, *offered)


def _zone_label(sketch: Sketch, zone: str) -> str:
    shown = clock_words(sketch.speech, local(sketch.now, zone).time())
    return sketch.speech.label(
        "{city}, {clock}", city=short(city(sketch.speech, zone), 40), clock=shown
    )


def went_on(speech: Speech) -> Html:
    """A plan in progress was found again."""
    return speech.text("You have begun this already, so here is where you were.")


def other_first(speech: Speech) -> Html:
    """Two plans can't be changed at once."""
    return speech.text(
        "You are changing the plan of this group. Finish that first, or throw it away."
    )


def look_again(speech: Speech) -> Html:
    """Why the group isn't made yet."""
    return speech.text("Please look at it once more; then make the group.")


DISCARDED = plain(later("The draft is gone. Nothing else was changed."))
