"""Every message that the bot can say, with the longest facts that it may hold."""

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterable, Iterator, Mapping
from types import ModuleType
from typing import get_type_hints

import bot.words
from bot.buttons import AlertsButton, HurtButton, VerdictButton
from bot.buttons.personal import Setting
from bot.words import (
    alerts,
    clearing,
    digest,
    estimates,
    grid,
    group_chat,
    groups,
    help,
    hurting,
    joining,
    lesson,
    limits,
    mydata,
    pausing,
    progress,
    prompt,
    settings,
    variant,
)
from bot.words.message import Message
from bot.words.speech import Html, Speech
from bot.words.toasts import Toast
from core.alert import AlertKind
from core.lesson import SceneKind
from core.questions import ABOUT_A_MOVEMENT, Question, Topic
from core.reports import SymptomKind
from core.selfcheck import Direction, Fit
from core.suggestion import ReasonKind
from core.thresholds import Threshold, Thresholds
from core.verdict import Verdict
from tests.bot.words import longest
from tests.bot.words.longest import AT, ID, LINK, ON, WHEN
from tests.bot.words.people import about_people, captions_of_exports
from tests.bot.words.planning import about_plans, captions_of_plans
from tests.bot.words.timetable import about_timetable

Said = Iterable[Message]


def modules() -> list[ModuleType]:
    """Everything in the room of words."""
    found = pkgutil.walk_packages(bot.words.__path__, "bot.words.")
    return [importlib.import_module(each.name) for each in found]


def speaking() -> set[str]:
    """The names of all functions that make a message of facts."""
    names = set()
    for module in modules():
        for name, value in vars(module).items():
            if not inspect.isfunction(value) or value.__module__ != module.__name__:
                continue
            said = get_type_hints(value).get("return")
            if not name.startswith("_") and said in (Message, tuple[Message, ...]):
                names.add(name)
    return names


def constants() -> list[Callable[[Speech], Message]]:
    """Messages that are always the same."""
    return [
        value
        for module in modules()
        for name, value in vars(module).items()
        if name.isupper() and inspect.isfunction(value) and "plain" in value.__qualname__
    ]


def all_toasts() -> list[Toast]:
    """Every short answer to a press."""
    found = [
        value for module in modules() for value in vars(module).values() if isinstance(value, Toast)
    ]
    long = {"rating": "17.5"}
    return [*found, *(Toast(each, facts=long) for each in (group_chat.MORE, group_chat.ALL))]


def captions(speech: Speech, kind: str) -> Iterator[Html]:
    """What stands under pictures and files."""
    yield grid.caption(speech, longest.grid(), group=longest.name(kind))
    yield grid.spreads_caption(speech, group=longest.name(kind))
    yield mydata.json_caption(speech)
    yield mydata.csv_caption(speech)
    yield from captions_of_plans(speech, kind)
    yield from captions_of_exports(speech, kind)
    for gain in (1.0, -1.0, 0.0):
        yield progress.caption(speech, longest.progress(kind, gain=gain), group=longest.name(kind))


def messages(speech: Speech, kind: str) -> Iterator[tuple[str, Message]]:
    """Each message by the name of the function that makes it; `kind` is one of names."""
    for name, said in _by_name(speech, kind).items():
        yield from ((name, each) for each in said)
    yield from (("plain", constant(speech)) for constant in constants())


def _by_name(speech: Speech, kind: str) -> Mapping[str, Said]:
    return (
        _about_groups(speech, kind)
        | _about_group_chats(speech, kind)
        | _about_classes(speech, kind)
        | _about_symptoms(speech, kind)
        | _about_oneself(speech, kind)
        | about_people(speech, kind)
        | about_plans(speech, kind)
        | about_timetable(speech, kind)
    )


def _about_groups(speech: Speech, kind: str) -> dict[str, Said]:
    name = longest.name(kind)
    return {
        "member_joined": [groups.member_joined(speech, name, name, at) for at in (1, 40)],
        "claimed": [joining.claimed(speech, name)],
        "terms": [joining.terms(speech, name, ID)],
        "joined": [joining.joined(speech, ID, name, WHEN)],
        "declined": [joining.declined(speech, name)],
        "already_member": [joining.already_member(speech, name)],
        "unreachable_message": [alerts.unreachable_message(speech, name, name)],
    }


def _about_group_chats(speech: Speech, kind: str) -> dict[str, Said]:
    name, title = longest.name(kind), longest.name(kind) * 2
    led = {str(at): longest.name(kind, at) for at in range(20)}
    shared = {"group": name, "on": ON, "count": 40}
    return {
        "shared_question": [group_chat.shared_question(speech, ID, **shared, address=LINK)],  # type: ignore[arg-type]
        "closed_question": [group_chat.closed_question(speech, **shared)],  # type: ignore[arg-type]
        "whose_chat": [group_chat.whose_chat(speech, title, led, ID)],
        "linked": [group_chat.linked(speech, ID, name, title)],
        "unlinked": [group_chat.unlinked(speech, ID, name, title, ID)],
        "no_chat": [group_chat.no_chat(speech, name, "b" * 32)],
        "lost": [group_chat.lost(speech, name, title)],
        "found_again": [group_chat.found_again(speech, name, title)],
    }


def _about_classes(speech: Speech, kind: str) -> dict[str, Said]:
    plan, name = longest.plan(kind), longest.name(kind)
    names = {str(at): longest.name(kind, at) for at in range(longest.MEMBERS)}
    occasion = longest.occasion(speech, kind)
    questions = [
        Question(topic, place)
        for topic in Topic
        for place in ((0, 1, 2) if topic in ABOUT_A_MOVEMENT else (None,))
    ]
    told = longest.suggestions(kind)
    verdicts = [VerdictButton(ID, each, 1) for each in Verdict]
    held = [(ID, longest.name(kind, at)) for at in range(3)]
    return {
        "question_message": [
            prompt.question_message(occasion, each, note=prompt.AGAIN) for each in questions
        ],
        "summary_message": [
            prompt.summary_message(
                longest.occasion(speech, kind, word), [(each.movement, each.dose) for each in told]
            )
            for word in ("warning", "pain", "soreness", "fine")
        ],
        "change_message": [prompt.change_message(occasion)],
        "closed_message": [prompt.closed_message(occasion)],
        "estimate_message": [
            estimates.estimate_message(speech, ID, plan, place) for place in range(13)
        ],
        "variant_message": [
            variant.variant_message(
                speech,
                group=name,
                group_id=ID,
                when=WHEN,
                plan=plan,
                told=longest.suggestions(kind, each),
                symptoms=held,
                running=ID,
            )
            for each in ReasonKind
        ],
        "which_movement": [variant.which_movement(speech, plan, each) for each in verdicts],
        "verdict_noted": [
            variant.verdict_noted(speech, plan.lines[0], told[0], each) for each in verdicts
        ],
        "digest_messages": digest.digest_messages(
            speech,
            longest.digest(kind),
            digest.Heading(group=name, group_id=ID, session_id=ID, when=WHEN),
            names,
        ),
        "alert_message": [
            alerts.alert_message(
                speech,
                longest.alert(kind, each),
                id=ID,
                name=name,
                group=name,
                symptom=ID,
                handled=handled,
                again=True,
                following=AlertsButton(ID, ID),
            )
            for each in AlertKind
            for handled in longest.handled(kind)
        ],
        "note_question": [
            alerts.note_question(speech, longest.alert(kind, each), id=ID, name=name)
            for each in AlertKind
        ],
        "note_too_long": [alerts.note_too_long(speech)],
        "no_alerts": [alerts.no_alerts(speech, name)],
        "limits_message": [limits.limits_message(speech, ID, name, Thresholds())],
        "limit_page": [
            limits.limit_page(speech, ID, name, each, Thresholds()) for each in Threshold
        ],
    }


def _about_symptoms(speech: Speech, kind: str) -> dict[str, Said]:
    name = longest.name(kind)
    named = [(ID, longest.name(kind, at)) for at in range(longest.MOVEMENTS)]
    button = HurtButton(ID, SymptomKind.PAIN, ID)
    return {
        "is_it_fine": [clearing.is_it_fine(speech, ID, each) for each in (None, name)],
        "member_is_well": [
            clearing.member_is_well(speech, ID, name, each) for each in (None, name)
        ],
        "cleared_by_both": [clearing.cleared_by_both(speech, each) for each in (None, name)],
        "what_is_it": [hurting.what_is_it(speech, ID, named)],
        "which_group": [hurting.which_group(speech, button, named)],
        "where": [hurting.where(speech, button, ID, named)],
        "noted": [
            hurting.noted(speech, each, where, [ID])
            for each in SymptomKind
            for where in (None, name)
        ],
    }


def _about_oneself(speech: Speech, kind: str) -> dict[str, Said]:
    chosen = settings.Chosen(
        speech=speech, person=ID, language=None, asked="evening", reminder=True, quiet=(1290, 480)
    )
    checks = [longest.check(fit, way) for fit in Fit for way in Direction]
    scenes = [longest.scene(kind, each) for each in SceneKind]
    led = [longest.name(kind, at) for at in range(20)]
    return {
        "settings_message": [settings.settings_message(chosen)],
        "scale_page": [settings.scale_page(chosen)],
        "language_page": [settings.language_page(chosen)],
        "asked_page": [settings.asked_page(chosen)],
        "quiet_page": [
            settings.quiet_page(chosen, each) for each in (Setting.QUIET_FROM, Setting.QUIET_UNTIL)
        ],
        "heart_rate_page": [settings.heart_rate_page(chosen)],
        "medicine_page": [settings.medicine_page(chosen)],
        "hidden_page": [settings.hidden_page(chosen)],
        "scale_message": [lesson.scale_message(speech, ID, each) for each in (None, *checks)],
        "refresher_message": [lesson.refresher_message(speech, ID, each) for each in checks],
        "scene_message": [lesson.scene_message(speech, ID, each, 1, 4) for each in scenes],
        "scene_answered": [
            lesson.scene_answered(speech, ID, each, at, 2.0, 4) for at, each in enumerate(scenes)
        ],
        "too_few": [
            progress.too_few(speech, longest.progress(kind, rated=at), group=longest.name(kind))
            for at in (0, 2)
        ],
        "my_data": [mydata.my_data(speech, ID)],
        "erase_question": [mydata.erase_question(speech, ID)],
        "leads_still": [mydata.leads_still(speech, led)],
        "receipt": [
            mydata.receipt(speech, groups=at, classes=at, answers=at, symptoms=at)
            for at in (1, 1000)
        ],
        "until_when": [pausing.until_when(speech, ID, ID, each) for each in (None, ON)],
        "paused": [pausing.paused(speech, ID, each) for each in (None, ON)],
        "not_a_day": [pausing.not_a_day(speech, AT.date())],
        "help_message": [help.help_message(speech, leads=each) for each in (False, True)],
        "privacy_message": [help.privacy_message(speech)],
    }
