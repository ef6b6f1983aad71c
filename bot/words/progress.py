"""A member's progress in words: three sentences, what the picture shows, and its labels."""

from dataclasses import dataclass

from bot.words.doses import amount_words
from bot.words.message import LONGEST_CAPTION, Message, length, plain, short
from bot.words.speech import Html, Speech, bold, later, lines, small
from core.movement import Measure
from core.progress import ENOUGH_CLASSES, Progress
from core.standing import Standing

LONGEST_NAME = 32
"""Of a movement or variation in a sentence; the picture has more room for it."""


def caption(speech: Speech, progress: Progress, *, group: str) -> Html:
    """Under the picture: three sentences, and then in words what the picture shows.

    With very long names the last of these lines are left out, since the chat API takes no more.
    """
    said = lines(
        bold(speech.text("Your progress in {group}", group=group)),
        felt_sentence(speech, progress),
        moved_sentence(speech, progress),
        doubt_sentence(speech, progress),
    )
    for standing in progress.standings:
        longer = lines(said, small(standing_line(speech, standing)))
        if length(longer) > LONGEST_CAPTION:
            break
        said = longer
    return said


def felt_sentence(speech: Speech, progress: Progress) -> Html:
    """How the latest classes felt against the range aimed at."""
    low, high = speech.rating(progress.low), speech.rating(progress.high)
    if progress.as_planned == len(progress.ratings):
        return speech.texts(
            "Your last rated class felt as planned ({low} to {high}).",
            "All of your last {count} rated classes felt as planned ({low} to {high}).",
            progress.as_planned,
            low=low,
            high=high,
        )
    if not progress.easier:
        return speech.texts(
            "Your last rated class felt harder than planned ({low} to {high}).",
            "Of your last {count} rated classes, {as_planned} felt as planned ({low} to {high}) "
            "and {harder} harder.",
            len(progress.ratings),
            as_planned=progress.as_planned,
            low=low,
            high=high,
            harder=progress.harder,
        )
    if not progress.harder:
        return speech.texts(
            "Your last rated class felt easier than planned ({low} to {high}).",
            "Of your last {count} rated classes, {as_planned} felt as planned ({low} to {high}) "
            "and {easier} easier.",
            len(progress.ratings),
            as_planned=progress.as_planned,
            low=low,
            high=high,
            easier=progress.easier,
        )
    return speech.texts(
        "Of your last {count} rated class, {as_planned} felt as planned ({low} to {high}), "
        "{harder} harder and {easier} easier.",
        "Of your last {count} rated classes, {as_planned} felt as planned ({low} to {high}), "
        "{harder} harder and {easier} easier.",
        len(progress.ratings),
        as_planned=progress.as_planned,
        low=low,
        high=high,
        harder=progress.harder,
        easier=progress.easier,
    )


def moved_sentence(speech: Speech, progress: Progress) -> Html:
    """The change worth telling, or that there is none to tell yet."""
    changed = progress.most_changed
    if changed is not None and changed.could is not None:
        up = changed.gain > 0
        return speech.text(
            later("{movement}: you can do more than when you began, about {now} instead of {then}.")
            if up
            else later(
                "{movement}: about {now} just now, after {then} when you began; that happens, "
                "for example after a break."
            ),
            movement=_named(speech, changed),
            now=can_words(speech, changed, changed.can.middle),
            then=can_words(speech, changed, changed.could.middle),
        )
    if any(each.could is not None for each in progress.standings):
        return speech.text("Your movements are about where you began; a change takes some weeks.")
    return speech.text(
        "After a few more answers about the same movement I compare it with your beginning."
    )


def doubt_sentence(speech: Speech, progress: Progress) -> Html:
    """What another answer would help most with."""
    vague = progress.vaguest
    if vague is None:
        return speech.text("With answers about single movements I can show where you stand.")
    return speech.text(
        "I'm least sure about {movement}: somewhere between {low} and {high}. An answer about it "
        "helps most.",
        movement=_named(speech, vague),
        low=can_words(speech, vague, vague.can.low),
        high=can_words(speech, vague, vague.can.high),
    )


def standing_line(speech: Speech, standing: Standing) -> Html:
    """One row of the picture in words."""
    amounts = amounts_words(speech, standing)
    return speech.text("{movement}: {amounts}", movement=_named(speech, standing), amounts=amounts)


def amounts_words(speech: Speech, standing: Standing) -> str:
    """What they could just do now and when they began, as plain text."""
    can, low, high = (
        can_words(speech, standing, standing.can.middle),
        speech.number(_rounded(standing, standing.can.low)),
        speech.number(_rounded(standing, standing.can.high)),
    )
    if standing.could is None:
        return speech.label("about {now} ({low} to {high})", now=can, low=low, high=high)
    return speech.label(
        "about {now} ({low} to {high}), began at {then}",
        now=can,
        low=low,
        high=high,
        then=can_words(speech, standing, standing.could.middle),
    )


def can_words(speech: Speech, standing: Standing, amount: float) -> str:
    """What somebody could just do, such as `38 s` or `14 kg × 8`."""
    rounded = _rounded(standing, amount)
    if standing.repetitions is None:
        return amount_words(speech, rounded, standing.movement.measure)
    return speech.label(
        "{load} kg × {reps}",
        load=speech.number(rounded),
        reps=speech.number(standing.repetitions),
    )


def _rounded(standing: Standing, amount: float) -> float:
    """As finely as it means something: half kilograms, else whole numbers."""
    if standing.movement.measure is Measure.LOAD:
        return round(2 * amount) / 2
    return round(amount)


def _named(speech: Speech, standing: Standing) -> str:
    movement = short(standing.movement.name, LONGEST_NAME)
    if len(standing.movement.ladder) == 1:
        return movement
    variation = short(standing.variation, LONGEST_NAME)
    return speech.label("{movement} ({variation})", movement=movement, variation=variation)


@dataclass(frozen=True, slots=True, kw_only=True)
class Labels:
    """What is written on the picture besides names, days and numbers."""

    title: str
    ratings: str
    aimed_at: str
    as_planned: str
    harder: str
    easier: str
    standings: str
    now: str
    began: str
    step: str
    note: str | None


def labels(speech: Speech, progress: Progress) -> Labels:
    """The picture's labels in this language."""
    low, high = speech.rating(progress.low), speech.rating(progress.high)
    middle = speech.rating((progress.low + progress.high) / 2)
    return Labels(
        title=speech.label("Your progress"),
        ratings=speech.label("How hard your classes were"),
        aimed_at=speech.label("aimed at: {low} to {high}", low=low, high=high),
        as_planned=speech.label("as planned"),
        harder=speech.label("harder"),
        easier=speech.label("easier"),
        standings=speech.label("What you can do"),
        now=speech.label("now, and how sure that is"),
        began=speech.label("when you began"),
        step=speech.label(
            "where a step of the ladder, as much of it as is planned, feels like {target}",
            target=middle,
        ),
        note=_note(speech, progress),
    )


def _note(speech: Speech, progress: Progress) -> str | None:
    if not progress.standings:
        return speech.label(
            "With answers about single movements, this also shows what you can do of each."
        )
    if not progress.unshown:
        return None
    return speech.labels(
        "There is no room here for {count} more movement.",
        "There is no room here for {count} more movements.",
        progress.unshown,
    )


def too_few(speech: Speech, progress: Progress, *, group: str) -> Message:
    """Instead of a picture, as long as there is nothing to see."""
    return Message(
        text=lines(
            bold(speech.text("Your progress in {group}", group=group)),
            speech.texts(
                "You have rated {count} class so far.",
                "You have rated {count} classes so far.",
                progress.rated,
            )
            if progress.rated
            else speech.text("You haven't rated a class yet, so there is nothing to show."),
            speech.text(
                "From {enough} rated classes on I draw you a picture of how they felt and of what "
                "you can do.",
                enough=ENOUGH_CLASSES,
            ),
        )
    )


NOT_A_MEMBER = plain(
    later("You are not in a group yet. Please use the link that your instructor gave you.")
)
