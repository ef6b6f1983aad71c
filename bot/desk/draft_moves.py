"""What a tap or something typed makes of a plan in progress; facts in, the next screen out."""

from dataclasses import dataclass, replace
from datetime import datetime

from bot.buttons.setup import Act, Stage, Step
from bot.planfile.draft import Draft, is_right
from bot.planfile.editing import aimed_at, moved_to, with_day, with_dose, with_movement, without
from bot.planfile.shelf import ladders_like
from bot.storage.names import name_row
from bot.timetable import is_zone
from bot.words import setup_typed as words
from bot.words.speech import Html, Speech
from bot.words.typed_doses import read_dose
from bot.words.typed_times import read_clock, read_minutes, read_weekdays
from bot.words.zones import zones_called, zones_showing
from core import library
from core.effort import Scale, read_rating_on
from core.library import Ladder
from core.names import LONGEST_NAME, readable
from core.plan import PlanLine


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A plan in progress after something was said about it, and what is to be on screen."""

    draft: Draft
    step: Step
    note: Html | None = None
    """What was wrong with it, if it was."""
    zones: tuple[str, ...] = ()
    """Time zones that were looked for."""
    names: tuple[str, ...] | None = None
    """Movements of the library that were looked for; None if none were."""
    typed: str = ""
    """What was typed to look for them."""


def movement_id(name: str) -> str:
    """What stands for a movement in a button."""
    return name_row("movement", name)


def line_named(draft: Draft, about: str) -> PlanLine | None:
    """The movement of a plan in progress that a button means; None if it's gone."""
    fitting = (each for each in draft.lines if movement_id(each.movement.name) == about)
    return next(fitting, None)


def following(draft: Draft) -> Step:
    """The first thing about a new group that hasn't been said; the whole of it if all has."""
    missing = {
        Stage.NAME: draft.name is None,
        Stage.DAYS: not draft.days,
        Stage.CLOCK: draft.clock is None,
        Stage.MINUTES: draft.minutes is None,
        Stage.ZONE: draft.timezone is None,
        Stage.LIBRARY: not draft.lines,
    }
    return Step(next((stage for stage, is_open in missing.items() if is_open), Stage.PREVIEW))


def tapped(speech: Speech, draft: Draft, act: Act, value: str, *, new: bool) -> Move | None:
    """What a button makes of it; None if what it means is gone, or can't be."""
    match act:
        case Act.SHOW:
            step = Step.read(value)
            return None if step is None else Move(draft=draft, step=step)
        case Act.DAY:
            changed = with_day(draft, int(value[0]), on=value[1] == "+")
            return Move(draft=changed, step=Step(Stage.DAYS))
        case Act.CLOCK:
            return _went_on(draft, clock=read_clock(value))
        case Act.MINUTES:
            return _went_on(draft, minutes=int(value)) if is_right(minutes=int(value)) else None
        case Act.ZONE:
            return _went_on(draft, timezone=value) if is_zone(value) else None
        case Act.TAKE:
            found = next((each for each in library.names() if movement_id(each) == value), None)
            known = None if found is None else library.ladder(found)
            return None if known is None else _taken(speech, draft, known)
        case Act.DROP:
            line = line_named(draft, value)
            left = draft if line is None else without(draft, line.movement.name)
            return Move(draft=left, step=Step(Stage.LINES))
        case Act.TARGET:
            return _aimed(draft, *value.split(":"), new=new)
        case Act.VARIATION | Act.AMOUNT | Act.SETS | Act.LOAD | Act.PLACE:
            return _line_changed(draft, act, *value.split(":"))
        case Act.MAKE | Act.ONCE | Act.ALWAYS | Act.DISCARD:
            return None  # these end it, which is for the caller to do


def _went_on(draft: Draft, **said: object) -> Move | None:
    if None in said.values():
        return None
    changed = replace(draft, **said)  # type: ignore[arg-type]  # the fields are named above
    return Move(draft=changed, step=following(changed))


def _taken(speech: Speech, draft: Draft, known: Ladder) -> Move:
    changed = with_movement(draft, known)
    if changed is None:
        return Move(draft=draft, step=Step(Stage.LINES), note=words.full(speech))
    return Move(draft=changed, step=Step(Stage.LINE, movement_id(known.name)))


def _aimed(draft: Draft, about: str, number: str, *, new: bool) -> Move | None:
    """Another target: of the class, with `-`, or of a movement."""
    line = line_named(draft, about)
    if about != "-" and line is None:
        return None
    changed = aimed_at(draft, float(number), None if line is None else line.movement.name)
    if changed is None:
        return None
    whole = Step(Stage.PREVIEW if new else Stage.LINES)
    return Move(draft=changed, step=whole if line is None else Step(Stage.LINE, about))


def _line_changed(draft: Draft, act: Act, about: str, number: str) -> Move | None:
    line = line_named(draft, about)
    if line is None:
        return None
    name, dose = line.movement.name, line.dose
    match act:
        case Act.PLACE:
            changed = moved_to(draft, name, int(number))
        case Act.VARIATION if int(number) < len(line.movement.ladder):
            variation = line.movement.ladder[int(number)].name
            changed = with_dose(draft, name, replace(dose, variation=variation))
        case Act.AMOUNT:
            changed = with_dose(draft, name, replace(dose, amount=float(number)))
        case Act.SETS:
            changed = with_dose(draft, name, replace(dose, sets=int(number)))
        case Act.LOAD:
            changed = with_dose(draft, name, replace(dose, load=float(number)))
        case _:
            changed = None
    return None if changed is None else Move(draft=changed, step=Step(Stage.LINE, about))


def typed(speech: Speech, draft: Draft, step: Step, text: str, now: datetime, *, new: bool) -> Move:
    """What something typed makes of it: an answer to what is on screen, or a word about why not."""
    line = line_named(draft, step.about)
    match step.stage:
        case Stage.NAME:
            found = _named(draft, text)
        case Stage.DAYS:
            days = read_weekdays(speech, text)
            found = _went_on(draft, days=days)
        case Stage.CLOCK:
            found = _went_on(draft, clock=read_clock(text))
        case Stage.MINUTES:
            minutes = read_minutes(text)
            right = minutes is not None and is_right(minutes=minutes)
            found = _went_on(draft, minutes=minutes) if right else None
        case Stage.ZONE:
            return _located(speech, draft, text, now)
        case Stage.LIBRARY | Stage.LINES:
            return _searched(speech, draft, text)
        case Stage.LINE if line is not None and read_dose(text) is None and ladders_like(text):
            return _searched(speech, draft, text)  # the next movement
        case Stage.LINE if line is not None:
            found = _dosed(draft, line, text)
        case Stage.TARGET:
            rating = read_rating_on(Scale.TEN, text)
            about = step.about or "-"
            found = None if rating is None else _aimed(draft, about, str(rating[0]), new=new)
        case _:
            found = None
    note = words.not_understood(speech, step.stage, line)
    return found or Move(draft=draft, step=step, note=note)


def _named(draft: Draft, text: str) -> Move | None:
    name = " ".join(text.split())
    if len(name) > LONGEST_NAME or not readable(name):
        return None
    return _went_on(draft, name=name)


def _located(speech: Speech, draft: Draft, text: str, now: datetime) -> Move:
    clock = read_clock(text)
    found = zones_called(speech, text) if clock is None else zones_showing(speech, clock, now)
    if len(found) == 1 and clock is None:
        changed = replace(draft, timezone=found[0])
        return Move(draft=changed, step=following(changed))
    note = None if found else words.no_zone(speech, text)
    return Move(draft=draft, step=Step(Stage.ZONE), zones=found, note=note)


def _searched(speech: Speech, draft: Draft, text: str) -> Move:
    found = ladders_like(text)
    if len(found) == 1:
        return _taken(speech, draft, found[0])
    names = tuple(each.name for each in found)
    return Move(draft=draft, step=Step(Stage.LIBRARY), names=names, typed=text)


def _dosed(draft: Draft, line: PlanLine, text: str) -> Move | None:
    said, dose = read_dose(text), line.dose
    if said is None:
        return None
    wanted = replace(
        dose,
        sets=said.sets or dose.sets,
        amount=dose.amount if said.amount is None else said.amount,
        load=dose.load if said.load is None else said.load,
    )
    changed = with_dose(draft, line.movement.name, wanted)
    if changed is None:
        return None
    return Move(draft=changed, step=Step(Stage.LINE, movement_id(line.movement.name)))
