"""When a group meets, in words: `Mon and Thu, 18:30 (Lisbon), 50 minutes`."""

from collections.abc import Iterable
from datetime import time

from babel import Locale
from babel.dates import format_time, get_day_names

from bot.planfile import PlanFile
from bot.timetable import read_rule
from bot.timetable.rule import FREQUENCIES, Rule
from bot.words.speech import LANGUAGES, Speech
from bot.words.zones import city


def timetable_words(speech: Speech, plan_file: PlanFile) -> str:
    """Days, time, place and length of a plan file's classes; plain text."""
    rule = read_rule(plan_file.rrule)
    clock, place = clock_words(speech, plan_file.starts.time()), city(speech, plan_file.timezone)
    facts = {"clock": clock, "city": place, "minutes": plan_file.minutes}
    days = rule.days or (plan_file.starts.weekday(),)
    weekly = FREQUENCIES["WEEKLY"]
    if rule == Rule(freq=weekly, days=rule.days, week_starts=rule.week_starts):
        return speech.label(
            "{days}, {clock} ({city}), {minutes} minutes", days=day_words(speech, days), **facts
        )
    return speech.label(
        "from {day} on, {clock} ({city}), {minutes} minutes, by the rule {rule}",
        day=speech.day(plan_file.starts.date()),
        rule=plan_file.rrule,
        **facts,
    )


def day_words(speech: Speech, days: Iterable[int]) -> str:
    """Days of the week, such as `Mon and Thu`."""
    return speech.listed(day_name(speech, day) for day in sorted(days))


def day_name(speech: Speech, day: int) -> str:
    """A day of the week, short; 0 for Monday."""
    names = get_day_names("abbreviated", "stand-alone", Locale.parse(LANGUAGES[speech.language]))
    return str(names[day])


def clock_words(speech: Speech, clock: time) -> str:
    """A time of day, such as `18:30`."""
    return format_time(clock, format="HH:mm", locale=Locale.parse(LANGUAGES[speech.language]))
