"""Which buttons answer a question that waits, in place of leading to one."""

from bot.buttons import (
    AnswerButton,
    AttendanceButton,
    Button,
    CalendarButton,
    DataButton,
    DealButton,
    Deed,
    DraftButton,
    EstimateButton,
    HurtButton,
    JoinButton,
    LeadButton,
    LessonButton,
    PauseButton,
    PersonButton,
    ReplaceButton,
    SessionButton,
    ShowButton,
    TrialButton,
    VerdictButton,
    View,
    read_button,
)
from bot.buttons.people import Care, Lead, Presence
from bot.buttons.setup import Act
from bot.buttons.watching import Dealing
from core.reports import SymptomKind
from core.verdict import Verdict
from demo_script.stand_in import Message

SURE = {Care.REMOVED, Care.NOTE_ERASED, Lead.HANDED_OVER, Lead.LEFT, Lead.ACCEPT, Lead.DECLINE}
DECIDED = {Act.MAKE, Act.ONCE, Act.ALWAYS, Act.DISCARD, Act.DROP}


def asks_nothing(shown: list[Message]) -> bool:
    """Whether nothing waits for an answer."""
    return not any(
        asks(read_button(each.data or "")) for m in shown for row in m.buttons for each in row
    )


def asks(button: Button | None) -> bool:
    """Whether this answers a question, in place of only leading to one."""
    return _asks_a_member(button) or _asks_an_instructor(button)


def _asks_a_member(button: Button | None) -> bool:
    match button:
        case AnswerButton() | JoinButton() | EstimateButton(offer=int()):
            return True
        case HurtButton(symptom=SymptomKind()) | LessonButton(tenths=int()):
            return True
        case VerdictButton(verdict=Verdict(), place=int()):
            return True
        case PauseButton() | DataButton():
            return button.choice in ("7", "14", "28", "open", "no", "yes")
        case ShowButton():
            return button.view is View.SUMMARY
        case _:
            return False


def _asks_an_instructor(button: Button | None) -> bool:
    match button:
        case ReplaceButton() | CalendarButton():
            return True
        case TrialButton():
            return bool(button.said)
        case PersonButton():
            return button.care in SURE
        case LeadButton():
            return button.lead in SURE
        case SessionButton():
            return button.deed in (Deed.CANCELLED, Deed.MOVED)
        case AttendanceButton():
            return button.presence is Presence.OTHERS_AWAY
        case DealButton():
            return button.what in (Dealing.PLAIN, Dealing.LEAVE)
        case DraftButton():
            return button.act in DECIDED
        case _:
            return False
