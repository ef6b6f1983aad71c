"""What members can do, as beliefs, and how each answer changes them."""

from core.capacity.belief import Belief, Outlook, first_belief, outlook
from core.capacity.evidence import sessions
from core.capacity.history import History, begin, take_in
from core.capacity.learning import learn, wait, weighed
from core.reports import Session

__all__ = [
    "Belief",
    "History",
    "Outlook",
    "Session",
    "begin",
    "first_belief",
    "learn",
    "outlook",
    "sessions",
    "take_in",
    "wait",
    "weighed",
]
