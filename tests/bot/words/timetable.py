"""Every message about the timetable, with the longest facts that it may hold."""

from datetime import timedelta

from bot.timetable.calendarfile import BadCalendar, Refusal
from bot.words import class_changes, class_news, classes, timetable_file
from bot.words.class_news import News
from bot.words.classes import ClassFacts, Standing
from bot.words.message import Message
from bot.words.speech import Speech
from tests.bot.words import longest
from tests.bot.words.longest import AT, ID, ON, WHEN

ZONE = "America/Argentina/Buenos_Aires"
HOUR = timedelta(hours=1)


def about_timetable(speech: Speech, kind: str) -> dict[str, list[Message]]:
    """Each by the name of the function that makes it."""
    return _about_classes(speech, kind) | _about_news(speech, kind) | _about_files(speech, kind)


def _facts(kind: str, standing: Standing) -> ClassFacts:
    return ClassFacts(
        session=ID,
        group=longest.name(kind),
        group_id=ID,
        starts_at=AT,
        zone=ZONE,
        minutes=600,
        standing=standing,
    )


def _about_classes(speech: Speech, kind: str) -> dict[str, list[Message]]:
    name, every = longest.name(kind), [_facts(kind, each) for each in Standing]
    ways = [(speech.label(each, when=WHEN[:22]), AT) for each in class_changes.WAYS.values()]
    return {
        "classes_message": [
            classes.classes_message(
                speech,
                group=name,
                group_id=ID,
                classes=shown,
                page=1,
                more=True,
                from_calendar=from_calendar,
            )
            for shown in (every, [])
            for from_calendar in (True, False)
        ],
        "class_message": [classes.class_message(speech, each) for each in every],
        "cancel_question": [
            class_changes.cancel_question(speech, each, told=True) for each in every
        ],
        "cancelled": [class_changes.cancelled(speech, each) for each in every],
        "restored": [class_changes.restored(speech, each) for each in every],
        "when_to_move": [class_changes.when_to_move(speech, each, ways) for each in every],
        "move_question": [
            class_changes.move_question(speech, each, AT + HOUR, told=True) for each in every
        ],
        "moved": [class_changes.moved(speech, each, AT + HOUR) for each in every],
        "when_to_add": [class_changes.when_to_add(speech, name, ID, ways, AT)],
        "added": [class_changes.added(speech, each) for each in every],
        "taken": [class_changes.taken(speech, name, WHEN)],
        "not_a_moment": [class_changes.not_a_moment(speech, AT)],
    }


def _about_news(speech: Speech, kind: str) -> dict[str, list[Message]]:
    name = longest.name(kind)
    return {
        "did_not_take_place": [class_news.did_not_take_place(speech, name, ON)],
        "news_for_members": [
            class_news.news_for_members(speech, each, group=name, when=WHEN, before=WHEN)
            for each in News
        ],
        "news_for_instructors": [
            class_news.news_for_instructors(
                speech, each, name=name, group=name, when=WHEN, before=WHEN
            )
            for each in News
        ],
        "members_told": [class_news.members_told(speech, each) for each in (1, 40)],
    }


def _about_files(speech: Speech, kind: str) -> dict[str, list[Message]]:
    name, dates, pairs = longest.name(kind), (WHEN,) * 84, ((WHEN, WHEN),) * 84
    titles = [longest.name(kind, at) for at in range(40)]
    return {
        "which_group": [
            timetable_file.which_group(speech, ID, [(ID, each) for each in titles[:20]])
        ],
        "which_events": [timetable_file.which_events(speech, ID, name, ["", *titles])],
        "preview": [
            timetable_file.preview(
                speech, ID, name, new=some, moved=pairs[: len(some)], gone=some, kept=some
            )
            for some in ((), dates[:1], dates)
        ],
        "taken_over": [timetable_file.taken_over(speech, name, dates[:3])],
        "told_of_timetable": [
            timetable_file.told_of_timetable(
                speech, name, name, new=some, moved=pairs[: len(some)], gone=some
            )
            for some in ((), dates[:1], dates)
        ],
        "refused": [timetable_file.refused(speech, BadCalendar(each, name)) for each in Refusal],
    }
