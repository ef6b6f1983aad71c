"""Why something is suggested: one plain line that names the evidence."""

from collections.abc import Mapping
from enum import Enum, auto

from bot.words.doses import amount_words, set_words
from core.movement import Dose, Movement
from core.suggestion import Reason, ReasonKind, Suggestion


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
    Saying.RATED_AND_STOPPED: "You rated {effort} at {dose} and stopped at {done}.",
    Saying.STOPPED_AT: "You stopped at {done} of {dose}.",
    Saying.STOPPED: "You stopped before the end of {dose}.",
    Saying.RATED: "You rated {effort} at {dose}.",
    Saying.DID: "You did {dose} and didn't rate it.",
    Saying.HAD_LEFT: "You did {dose} and had {left} left.",
    Saying.ESTIMATED: "You thought you could just do {dose}.",
    Saying.ESTIMATED_SOMETHING: "It starts from your own estimate.",
    Saying.UNKNOWN: "Nothing is known of you here yet, so it starts on the easy side.",
    Saying.OTHERS: "It follows from your answers about other movements and the whole class.",
    Saying.PAIN: "You reported pain or a warning sign: no harder until you both clear it.",
    Saying.AWAY: "You were away for {days} days, so it starts easier than you left off.",
    Saying.AWAY_SOME_TIME: "You were away for a while, so it starts easier than you left off.",
}
"""To the member."""

ABOUT_THEM: Mapping[Saying, str] = {
    Saying.RATED_AND_STOPPED: "{name} rated {effort} at {dose} and stopped at {done}.",
    Saying.STOPPED_AT: "{name} stopped at {done} of {dose}.",
    Saying.STOPPED: "{name} stopped before the end of {dose}.",
    Saying.RATED: "{name} rated {effort} at {dose}.",
    Saying.DID: "{name} did {dose} and didn't rate it.",
    Saying.HAD_LEFT: "{name} did {dose} and had {left} left.",
    Saying.ESTIMATED: "{name} expected to be able to do just {dose}.",
    Saying.ESTIMATED_SOMETHING: "It starts from an estimate that {name} gave.",
    Saying.UNKNOWN: "Nothing is known of {name} here yet, so it starts on the easy side.",
    Saying.OTHERS: "It follows from what {name} said about other movements and the whole class.",
    Saying.PAIN: "{name} reported pain or a warning sign: no harder until you both clear it.",
    Saying.AWAY: "{name} was away for {days} days, so it starts easier than before.",
    Saying.AWAY_SOME_TIME: "{name} was away for a while, so it starts easier than before.",
}
"""To the instructor."""


def because(suggestion: Suggestion, movement: Movement) -> str:
    """Why, said to the member; plain text."""
    return _say(TO_THEM, suggestion, movement, name="")


def because_of(suggestion: Suggestion, movement: Movement, name: str) -> str:
    """Why, said to the instructor about the member of that name; plain text."""
    return _say(ABOUT_THEM, suggestion, movement, name=name)


def _say(
    sayings: Mapping[Saying, str], suggestion: Suggestion, movement: Movement, name: str
) -> str:
    reason, measure = suggestion.reason, movement.measure
    now = suggestion.dose.variation
    return sayings[saying_of(reason)].format(
        name=name,
        effort=f"{reason.effort or 0:g}",
        dose=_work_words(reason.dose, movement, now) if reason.dose else "",
        done=amount_words(reason.completed or 0, measure),
        left=amount_words(reason.reserve or 0, measure),
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


def _work_words(dose: Dose, movement: Movement, now: str) -> str:
    """One set, with its variation where that isn't the one now suggested."""
    work = set_words(dose, movement)
    return work if dose.variation == now else f"{work} ({dose.variation})"
