"""Plan files: a group, its timetable and its movements, as an instructor writes them down."""

from bot.planfile.difference import Difference, difference
from bot.planfile.draft import Draft
from bot.planfile.read import MOST_BYTES, MOST_MOVEMENTS, read_plan_file
from bot.planfile.value import PlanFile
from bot.planfile.write import write_plan_file

__all__ = [
    "MOST_BYTES",
    "MOST_MOVEMENTS",
    "Difference",
    "Draft",
    "PlanFile",
    "difference",
    "read_plan_file",
    "write_plan_file",
]
