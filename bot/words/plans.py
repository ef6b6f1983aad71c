"""Plans in words: what a class consists of, and what a change would make of it."""

from collections.abc import Iterable

from bot.buttons.setup import PlanButton
from bot.planfile import Difference, PlanFile
from bot.words.doses import dose_words
from bot.words.message import Key, Message, length, plain
from bot.words.speech import Html, Speech, bold, later, lines
from bot.words.timetables import timetable_words
from core.plan import Plan, PlanLine

DIFFERENCE = 3000
"""Characters that a difference may take of a message; the rest is for what is asked about it."""


def plan_words(speech: Speech, plan: Plan) -> Html:
    """The movements of a class, with what it aims at."""
    aim = speech.text("Effort aimed at: {target}", target=speech.number(plan.target))
    return lines(aim, *(line_words(speech, each, plan) for each in plan.lines))


def line_words(speech: Speech, line: PlanLine, plan: Plan) -> Html:
    """One movement with its dose, and its target where that is its own."""
    dose = dose_words(speech, line.dose, line.movement)
    if line.target == plan.target:
        return speech.text("• {movement}: {dose}", movement=line.movement.name, dose=dose)
    return speech.text(
        "• {movement}: {dose}; aimed at {target}",
        movement=line.movement.name,
        dose=dose,
        target=speech.number(line.target),
    )


def plan_message(
    speech: Speech, group_id: str, plan: PlanFile, *, group: str, when: str | None, own: bool
) -> Message:
    """The plan of the next class; `own` says whether it is for that class alone."""
    return Message(
        text=lines(
            Html(f"{bold(group)} · {when}") if when else bold(group),
            None if when else speech.text("No class in the next weeks."),
            speech.text("This plan is for this class only.") if own else None,
            plan_words(speech, plan.plan),
        ),
        rows=((Key(speech.label("Change this plan"), PlanButton(group_id)),),),
        personal=False,
    )


def plan_caption(speech: Speech) -> Html:
    """What the file under a plan is for."""
    return speech.text(
        "The same as a plan file. Change it in any text editor, movements of your own included, "
        "and send it back to me: I show what would change before it does."
    )


def difference_words(speech: Speech, found: Difference) -> Html:
    """What would change, line by line; shorter where it wouldn't fit into a message."""
    head = tuple(_about_group(speech, found))
    full = (*head, *_about_movements(speech, found))
    brief = (*head, *_brief(speech, found))
    counts = speech.texts("{count} change", "{count} changes", _count(found))
    texts = (lines(*full), lines(*brief), lines(*head, counts))
    return next((each for each in texts if length(each) <= DIFFERENCE), texts[-1])


def _about_group(speech: Speech, found: Difference) -> Iterable[Html]:
    old, new = found.old, found.new
    if found.renamed:
        yield speech.text("Name: {old} → {new}", old=old.name, new=new.name)
    if found.times:
        before, after = timetable_words(speech, old), timetable_words(speech, new)
        if before != after:
            yield speech.text("Times: {old} → {new}", old=before, new=after)
        else:
            day = speech.day(new.starts.date())
            yield speech.text("The timetable begins on {day}.", day=day)
    if found.prompt_after:
        yield speech.text(
            "Questions {minutes} minutes after the class, so far {before}",
            minutes=new.prompt_after,
            before=old.prompt_after,
        )
    if found.digest_before:
        yield speech.text(
            "Digest {minutes} minutes before the class, so far {before}",
            minutes=new.digest_before,
            before=old.digest_before,
        )
    if found.efforts:
        yield speech.text(
            "Effort: {old} → {new}",
            old=_efforts(speech, old.plan.target, old.plan.ceiling),
            new=_efforts(speech, new.plan.target, new.plan.ceiling),
        )


def _about_movements(speech: Speech, found: Difference) -> Iterable[Html]:
    for line in found.removed:
        yield speech.text("Out: {movement}", movement=line.movement.name)
    for line in found.added:
        yield speech.text(
            "New: {movement}, {dose}",
            movement=line.movement.name,
            dose=dose_words(speech, line.dose, line.movement),
        )
    for old, new in found.changed:
        yield from _changed(speech, found, old, new)
    if found.reordered:
        yield speech.text("The order is another one.")


def _changed(speech: Speech, found: Difference, old: PlanLine, new: PlanLine) -> Iterable[Html]:
    name = new.movement.name
    if old.dose != new.dose:
        yield speech.text(
            "{movement}: {old} → {new}",
            movement=name,
            old=dose_words(speech, old.dose, old.movement),
            new=dose_words(speech, new.dose, new.movement),
        )
    goes_along = (old.target, old.ceiling) == (found.old.plan.target, found.old.plan.ceiling) and (
        new.target, new.ceiling
    ) == (found.new.plan.target, found.new.plan.ceiling)  # fmt: skip
    if (old.target, old.ceiling) != (new.target, new.ceiling) and not goes_along:
        yield speech.text(
            "{movement}, effort: {old} → {new}",
            movement=name,
            old=_efforts(speech, old.target, old.ceiling),
            new=_efforts(speech, new.target, new.ceiling),
        )
    if old.movement != new.movement:
        yield speech.text("{movement}: other variations, ranges or steps", movement=name)


def _brief(speech: Speech, found: Difference) -> Iterable[Html]:
    out = [line.movement.name for line in found.removed]
    new = [line.movement.name for line in found.added]
    changed = [line.movement.name for _, line in found.changed]
    if out:
        yield speech.text("Out: {movement}", movement=", ".join(out))
    if new:
        yield speech.text("New: {movements}", movements=", ".join(new))
    if changed:
        yield speech.text("Changed: {movements}", movements=", ".join(changed))
    if found.reordered:
        yield speech.text("The order is another one.")


def _count(found: Difference) -> int:
    return len(found.removed) + len(found.added) + len(found.changed)


def _efforts(speech: Speech, target: float, ceiling: float) -> str:
    return speech.label(
        "{target}, at most {ceiling}", target=speech.number(target), ceiling=speech.number(ceiling)
    )


def plan_changed(
    speech: Speech, plan: PlanFile, *, when: str | None, once: bool, called: bool
) -> Message:
    """A plan has changed: from which class on, and what becomes of a digest that went out."""
    group = bold(plan.name)
    if once and when is not None:
        first = speech.text(
            "{group} follows this plan on {when} only; then the usual one again.",
            group=group,
            when=when,
        )
    elif when is not None:
        first = speech.text("{group} follows this plan from {when} on.", group=group, when=when)
    else:
        first = speech.text("{group} follows this plan from now on.", group=group)
    again = speech.text(
        "The digest for that class had gone out already, so here comes a new one. Whoever has "
        "looked before sees the new plan with /variant."
    )
    return Message(
        text=lines(first, plan_words(speech, plan.plan), again if called else None), personal=False
    )


NOTHING_DIFFERENT = plain(later("This plan says just what holds now, so there is nothing to do."))
NO_CLASS_TO_CHANGE = plain(
    later("There is no class to come, so a plan for one class would change nothing.")
)
