"""Why something is suggested: one plain line that names the evidence."""

from collections.abc import Mapping
from enum import Enum, auto

from bot.words.doses import amount_words, set_words
from bot.words.speech import Speech, later
from core.movement import Dose, Movement
from core.suggestion import Reason, ReasonKind, Suggestion
from core.verdict import Verdict


class Saying(Enum):
    """One sentence about a member; whole sentences, since languages order their parts differently.

    `{name}` the member, `{effort}` their rating, `{done}` what they did of it, `{dose}` one set of
    what was to be done, `{left}` what was left, `{days}` days since the last class.
    """

    RATED_AND_STOPPED = auto()
    STOPPED_AT = auto()
    STOPPED = auto()
    RATED = auto()
    DID = auto()
    HAD_LEFT = auto()
    ESTIMATED = auto()
    ESTIMATED_SOMETHING = auto()
    UNKNOWN = auto()
    OTHERS = auto()
    PAIN = auto()
    AWAY = auto()
    AWAY_SOME_TIME = auto()


TO_THEM: Mapping[Saying, str] = {
    Saying.RATED_AND_STOPPED: later("You rated {effort} at {dose} and stopped at {done}."),
    Saying.STOPPED_AT: later("You stopped at {done} of {dose}."),
    Saying.STOPPED: later("You stopped before the end of {dose}."),
    Saying.RATED: later("You rated {effort} at {dose}."),
    Saying.DID: later("You did {dose} and didn't rate it."),
    Saying.HAD_LEFT: later("You did {dose} and had {left} left."),
    Saying.ESTIMATED: later("You thought you could do {dose} at most."),
    Saying.ESTIMATED_SOMETHING: later("It starts from your own estimate."),
    Saying.UNKNOWN: later("Nothing is known of you here yet, so it starts on the easy side."),
    Saying.OTHERS: later("It follows from your other answers."),
    Saying.PAIN: later(
        "You reported pain or a warning sign: no harder until you and your instructor have cleared "
        "it."
    ),
    Saying.AWAY: later("You were away for {days} days, so it starts easier than where you were."),
    Saying.AWAY_SOME_TIME: later(
        "You were away for a while, so it starts easier than where you were."
    ),
}
"""To the member."""

ABOUT_THEM: Mapping[Saying, str] = {
    Saying.RATED_AND_STOPPED: later("{name} rated {effort} at {dose} and stopped at {done}."),
    Saying.STOPPED_AT: later("{name} stopped at {done} of {dose}."),
    Saying.STOPPED: later("{name} stopped before the end of {dose}."),
    Saying.RATED: later("{name} rated {effort} at {dose}."),
    Saying.DID: later("{name} did {dose} and didn't rate it."),
    Saying.HAD_LEFT: later("{name} did {dose} and had {left} left."),
    Saying.ESTIMATED: later("{name} expected to manage {dose} at most."),
    Saying.ESTIMATED_SOMETHING: later("It starts from an estimate that {name} gave."),
    Saying.UNKNOWN: later("Nothing is known of {name} here yet, so it starts on the easy side."),
    Saying.OTHERS: later("It follows from {name}'s other answers."),
    Saying.PAIN: later(
        "{name} reported pain or a warning sign: no harder until you both clear it."
    ),
    Saying.AWAY: later("{name} was away for {days} days, so it starts easier than before."),
    Saying.AWAY_SOME_TIME: later("{name} was away for a while, so it starts easier than before."),
}
"""To the instructor."""


CALLED: Mapping[Verdict, str] = {
    Verdict.HARD: later("You called {dose} too hard."),
    Verdict.EASY: later("You called {dose} too easy."),
}
"""To the member, where they gave no number."""


def because(
    speech: Speech, suggestion: Suggestion, movement: Movement, called: Verdict | None = None
) -> str:
    """Why, said to the member; plain text. `called` is what they said in place of a rating."""
    if called is not None and suggestion.reason.dose is not None:
        dose = _work_words(speech, suggestion.reason.dose, movement, suggestion.dose.variation)
        return speech.label(CALLED[called], dose=dose)
    effort = speech.rating(suggestion.reason.effort or 0)
    return _say(speech, TO_THEM, suggestion, movement, name="", effort=effort)


def because_of(speech: Speech, suggestion: Suggestion, movement: Movement, name: str) -> str:
    """Why, said to the instructor about the member of that name; plain text."""
    effort = speech.number(suggestion.reason.effort or 0)  # one scale for all of a digest
    return _say(speech, ABOUT_THEM, suggestion, movement, name=name, effort=effort)


def _say(
    speech: Speech,
    sayings: Mapping[Saying, str],
    suggestion: Suggestion,
    movement: Movement,
    *,
    name: str,
    effort: str,
) -> str:
    reason, measure = suggestion.reason, movement.measure
    now = suggestion.dose.variation
    saying = saying_of(reason)
    done = reason.completed or 0
    return speech.label(
        sayings[saying],
        name=name,
        effort=effort,
        dose=_work_words(speech, reason.dose, movement, now) if reason.dose else "",
        done=speech.number(done)  # "45 of 60 s" names the unit once
        if saying is Saying.STOPPED_AT
        else amount_words(speech, done, measure),
        left=amount_words(speech, reason.reserve or 0, measure),
        days=reason.days_away,
    )


def saying_of(reason: Reason) -> Saying:
    """Which sentence says this, given what is known."""
    match reason.kind:
        case ReasonKind.UNFINISHED if reason.dose is not None:
            if reason.completed is None:
                return Saying.STOPPED
            return Saying.STOPPED_AT if reason.effort is None else Saying.RATED_AND_STOPPED
        case ReasonKind.RATING if reason.dose is not None:
            return Saying.DID if reason.effort is None else Saying.RATED
        case ReasonKind.RESERVE if reason.dose is not None and reason.reserve is not None:
            return Saying.HAD_LEFT
        case ReasonKind.ESTIMATE:
            return Saying.ESTIMATED if reason.dose else Saying.ESTIMATED_SOMETHING
        case ReasonKind.PAIN:
            return Saying.PAIN
        case ReasonKind.BREAK:
            return Saying.AWAY if reason.days_away is not None else Saying.AWAY_SOME_TIME
        case ReasonKind.NOT_KNOWN:
            return Saying.UNKNOWN
        case _:  # evidence without its dose: it was about something else
            return Saying.OTHERS


def _work_words(speech: Speech, dose: Dose, movement: Movement, now: str) -> str:
    """One set, with its variation where that isn't the one now suggested."""
    work = set_words(speech, dose, movement)
    if dose.variation == now:
        return work
    return speech.label("{work} ({variation})", work=work, variation=dose.variation)
