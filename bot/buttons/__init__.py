"""Buttons, written and read in one place; what they carry is never trusted, only looked up.

A button's data is `kind:id` or `kind:id:rest`, at most 64 bytes. Ids are opaque; whether the
presser may do it, and whether it is still open, is decided by the row that the id names.
"""

from typing import get_args

from bot.buttons.group_chat import LinkButton, TapButton, UnlinkButton
from bot.buttons.instructor import ClearButton, ReplaceButton, SeenButton
from bot.buttons.joining import EstimateButton, JoinButton
from bot.buttons.lesson import LessonButton, VerdictButton
from bot.buttons.people import AttendanceButton, LeadButton, PersonButton, RosterButton
from bot.buttons.personal import DataButton, HurtButton, PauseButton, SettingButton, WellAgainButton
from bot.buttons.prompt import AnswerButton, ShowButton, View, accepts
from bot.buttons.setup import DraftButton, InviteButton, PlanButton, TrialButton
from bot.buttons.timetable import CalendarButton, ClassesButton, Deed, SessionButton
from bot.buttons.watching import AlertsButton, ClassButton, DealButton, ThresholdButton

__all__ = [
    "KINDS",
    "AlertsButton",
    "AnswerButton",
    "AttendanceButton",
    "Button",
    "CalendarButton",
    "ClassButton",
    "ClassesButton",
    "ClearButton",
    "DataButton",
    "DealButton",
    "Deed",
    "DraftButton",
    "EstimateButton",
    "HurtButton",
    "InviteButton",
    "JoinButton",
    "LeadButton",
    "LessonButton",
    "LinkButton",
    "PauseButton",
    "PersonButton",
    "PlanButton",
    "ReplaceButton",
    "RosterButton",
    "SeenButton",
    "SessionButton",
    "SettingButton",
    "ShowButton",
    "TapButton",
    "ThresholdButton",
    "TrialButton",
    "UnlinkButton",
    "VerdictButton",
    "View",
    "WellAgainButton",
    "accepts",
    "read_button",
]

Button = (
    AnswerButton
    | ShowButton
    | JoinButton
    | EstimateButton
    | ReplaceButton
    | SeenButton
    | ClearButton
    | TapButton
    | LinkButton
    | UnlinkButton
    | HurtButton
    | PauseButton
    | SettingButton
    | DataButton
    | WellAgainButton
    | VerdictButton
    | LessonButton
    | DealButton
    | AlertsButton
    | ThresholdButton
    | ClassButton
    | RosterButton
    | PersonButton
    | AttendanceButton
    | LeadButton
    | DraftButton
    | PlanButton
    | InviteButton
    | TrialButton
    | ClassesButton
    | SessionButton
    | CalendarButton
)
KINDS: tuple[type[Button], ...] = get_args(Button)


def read_button(data: str) -> Button | None:
    """Whichever button wrote this; None for anything else."""
    return next((button for kind in KINDS if (button := kind.read(data)) is not None), None)
