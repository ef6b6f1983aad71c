"""The busy day: three groups of two instructors, from the first digest to the last summary."""

from demo_script.busy_day.day import Day, DayScript
from demo_script.busy_day.play import play_day

__all__ = ["Day", "DayScript", "play_day"]
