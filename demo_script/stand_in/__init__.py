"""A stand-in of the Telegram Bot API on this computer, with the rules of the real one."""

from demo_script.stand_in.entities import Entity
from demo_script.stand_in.faults import Fault, Trouble
from demo_script.stand_in.groups import Group
from demo_script.stand_in.limits import Limits
from demo_script.stand_in.log import Event
from demo_script.stand_in.people import Person
from demo_script.stand_in.presses import Answer, Press
from demo_script.stand_in.stage import StandIn
from demo_script.stand_in.values import Attachment, Button, Message

__all__ = [
    "Answer",
    "Attachment",
    "Button",
    "Entity",
    "Event",
    "Fault",
    "Group",
    "Limits",
    "Message",
    "Person",
    "Press",
    "StandIn",
    "Trouble",
]
