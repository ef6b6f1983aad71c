"""Busy days on which something went wrong, each in one way, and what was to notice it."""

import copy
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Any

from core.suggestion import Change
from demo_script.busy_day.day import EVENING, MIDDAY, MORNING, Day, Part
from demo_script.busy_day.people import NEWCOMER, RETURNING
from demo_script.stand_in import Person
from demo_script.story.witness import Sight

Spoil = Callable[[Day], Awaitable[None]]
Fits = Callable[[Sight], object]
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoiled:
    """One way in which the day could have gone wrong."""

    how: str
    spoil: Spoil
    noticed_by: tuple[str, ...]


@asynccontextmanager
async def as_it_was(day: Day) -> AsyncGenerator[None]:
    """Afterwards all that is remembered and stored of the day is as before."""
    sights, notes, problems = list(day.witness.sights), copy.copy(day.notes), list(day.problems)
    tales = [group.tale for group in day.groups]
    kept = [(dict(t.ledger.told), list(t.ledger.given), list(t.refusals)) for t in tales]
    pacer = day.theatre.api.world.pacer
    violations = pacer.violations
    stored = await _stored(day)
    try:
        yield
    finally:
        day.witness.sights[:], day.notes, day.problems[:] = sights, notes, problems
        for tale, (told, given, refusals) in zip(tales, kept, strict=True):
            tale.ledger.told, tale.ledger.given, tale.refusals = told, given, refusals
        pacer.violations = violations
        spoiled = await _stored(day)
        async with day.theatre.house.database.transaction() as tx:
            for (table, key), value in stored.items():
                if spoiled[table, key] != value:
                    await tx.execute(RESTORE[table], value=value, key=key)


RESTORE = {
    "answer": "UPDATE answer SET number = :value WHERE prompt_id || question = :key",
    "outbox": "UPDATE outbox SET state = :value WHERE id = :key",
}


async def _stored(day: Day) -> dict[tuple[str, str], Any]:
    """What a spoiled day may have changed in the database, by table and row."""
    async with day.theatre.house.database.transaction() as tx:
        answers = await tx.all("SELECT prompt_id || question AS key, number FROM answer")
        letters = await tx.all("SELECT id, state FROM outbox")
    return {
        **{("answer", row["key"]): row["number"] for row in answers},
        **{("outbox", row["id"]): row["state"] for row in letters},
    }


def _account(day: Day, part: Part, name: str) -> Person:
    return day.group(part).tale.actor(name).account


def _of_day(day: Day, person: Person, fits: Fits) -> list[Sight]:
    """The messages of that day to this person that fit, in order."""
    assert day.began is not None
    return [e for e in day.witness.by(person, "message") if e.at >= day.began and fits(e)]


def _put(day: Day, sight: Sight, *, instead_of: Sight | None = None, **changed: Any) -> None:
    """Let it be seen, with something changed; in place of another, or besides."""
    if instead_of is not None:
        _drop(day, instead_of)
    day.witness.sights.append(replace(sight, **changed))


def _drop(day: Day, sight: Sight) -> None:
    day.witness.sights[:] = [each for each in day.witness.sights if each is not sight]


# --- digests -------------------------------------------------------------------------------


async def _digest(day: Day, part: Part, person: Person) -> Sight:
    session = await day.session(day.group(part))
    return _of_day(day, person, lambda e: session.id in e.classes)[0]


async def no_digest(day: Day) -> None:
    _drop(day, await _digest(day, MORNING, day.first))


async def digest_late(day: Day) -> None:
    sight = await _digest(day, MORNING, day.first)
    _put(day, sight, instead_of=sight, at=sight.at + 2 * MINUTE)


async def digest_to_a_member(day: Day) -> None:
    sight = await _digest(day, MORNING, day.first)
    member = _account(day, MORNING, "Ada")
    _put(day, sight, chat_id=member.person_id, text="Weir House mobility: nothing new")


async def no_picture(day: Day) -> None:
    name = day.group(MORNING).name
    told = _of_day(day, day.first, lambda e: e.text.startswith(name))
    _drop(day, next(e for e in told if e.message is not None and e.message.attachment))


async def one_of_two_late(day: Day) -> None:
    sight = await _digest(day, EVENING, day.second)
    _put(day, sight, instead_of=sight, at=sight.at + MINUTE)


# --- who sees what -------------------------------------------------------------------------


async def _say(day: Day, person: Person, text: str) -> None:
    sight = next(iter(day.witness.by(person, "message")))
    plain = replace(sight, prompts=frozenset(), alerts=frozenset(), classes=frozenset())
    _put(day, plain, at=day.now, text=text, asks=False)


async def first_sees_the_evening(day: Day) -> None:
    await _say(day, day.first, "Nele had a hard day")


async def substitute_sees_later(day: Day) -> None:
    await _say(day, day.second, "Gwen had a hard day")


async def substitute_sees_a_second_digest(day: Day) -> None:
    sight = await _digest(day, MIDDAY, day.second)
    _put(day, sight, at=sight.at + 3 * HOUR)


async def member_sees_another(day: Day) -> None:
    await _say(day, _account(day, MORNING, "Ada"), "Bela had a hard day")


async def member_is_asked_anothers(day: Day) -> None:
    bela, ada = _account(day, MORNING, "Bela"), _account(day, MORNING, "Ada")
    sight = _of_day(day, bela, lambda e: e.asks)[0]
    _put(day, sight, chat_id=ada.person_id)


async def chat_names_somebody(day: Day) -> None:
    chat = day.group(EVENING).chat
    assert chat is not None
    sight = next(e for e in day.witness.sights if e.chat_id == chat.group_id)
    _put(day, sight, kind="edit", text="Marek has answered")


async def stranger_hears_a_name(day: Day) -> None:
    day.group(MORNING).tale.refusals[0] = "Ask Bela"


# --- alerts --------------------------------------------------------------------------------


async def alert_to_the_other(day: Day) -> None:
    pain = _of_day(day, day.first, lambda e: e.alerts and "Weir House strength" in e.text)[0]
    _put(day, pain, chat_id=day.second.person_id, text="Somebody reported pain")


async def alert_not_to_both(day: Day) -> None:
    _drop(day, _of_day(day, day.second, lambda e: e.alerts)[0])


async def alert_late(day: Day) -> None:
    sight = _of_day(day, day.second, lambda e: e.alerts)[0]
    _put(day, sight, instead_of=sight, at=sight.at + 3 * MINUTE)


async def alert_not_again(day: Day) -> None:
    _drop(day, _of_day(day, day.first, lambda e: e.alerts)[-1])


async def alert_again_though_seen(day: Day) -> None:
    sight = _of_day(day, day.second, lambda e: e.alerts)[0]
    _put(day, sight, at=sight.at + 31 * MINUTE)


# --- questions, answers, summaries ---------------------------------------------------------


async def asked_twice(day: Day) -> None:
    sight = _of_day(day, _account(day, MIDDAY, "Gwen"), lambda e: e.asks)[0]
    _put(day, sight, at=sight.at + 10 * MINUTE)


async def asked_early(day: Day) -> None:
    sight = _of_day(day, _account(day, MIDDAY, "Gwen"), lambda e: e.asks)[0]
    _put(day, sight, instead_of=sight, at=sight.at - 2 * MINUTE)


async def not_asked(day: Day) -> None:
    _drop(day, _of_day(day, _account(day, MIDDAY, "Gwen"), lambda e: e.asks)[0])


async def not_reminded(day: Day) -> None:
    _drop(day, _of_day(day, _account(day, EVENING, "Oskar"), lambda e: e.asks)[-1])


async def chat_asked_twice(day: Day) -> None:
    chat = day.group(EVENING).chat
    assert chat is not None
    asked = [e for e in day.witness.sights if e.chat_id == chat.group_id and e.kind == "message"]
    _put(day, asked[-1])


async def answer_lost(day: Day) -> None:
    given = day.group(EVENING).tale.ledger.given[0]
    async with day.theatre.house.database.transaction() as tx:
        await tx.execute(
            "UPDATE answer SET number = COALESCE(number, 0) + 1"
            " WHERE prompt_id = :prompt AND question = :question",
            prompt=given.prompt,
            question=given.question,
        )


async def summed_up_twice(day: Day) -> None:
    sight = _of_day(day, day.first, lambda e: "strength, after class" in e.text)[0]
    _put(day, sight)


async def not_summed_up(day: Day) -> None:
    _drop(day, _of_day(day, day.first, lambda e: "strength, after class" in e.text)[0])


# --- what was changed, and who came --------------------------------------------------------


async def not_moved(day: Day) -> None:
    assert day.notes.moved_from is not None
    day.notes.moved_from += HOUR


async def not_told_of_the_move(day: Day) -> None:
    news = _of_day(day, _account(day, EVENING, "Silas"), lambda e: "instead" in e.text)
    _drop(day, news[0])


async def digest_at_the_old_hour(day: Day) -> None:
    sight = await _digest(day, EVENING, day.second)
    _put(day, sight, at=sight.at + HOUR)


async def other_plan_changed_too(day: Day) -> None:
    other = day.group(EVENING).id
    changed = day.notes.plans_after[other] + "\n# changed"
    day.notes.plans_after = {**day.notes.plans_after, other: changed}


async def nothing_taken_over(day: Day) -> None:
    day.notes.plans_after = dict(day.notes.plans_before)


async def dose_changed_too(day: Day) -> None:
    mine = day.group(MORNING).id
    text = day.notes.plans_after[mine].replace("amount = 30", "amount = 35")
    day.notes.plans_after = {**day.notes.plans_after, mine: text}


async def joined_after_the_start(day: Day) -> None:
    day.notes.joined_at = day.now


async def newcomer_said_nothing(day: Day) -> None:
    tale = day.group(EVENING).tale
    tale.ledger.given = [each for each in tale.ledger.given if each.member != NEWCOMER]


async def harder_after_the_break(day: Day) -> None:
    ledger = day.group(EVENING).tale.ledger
    key = day.script.day, RETURNING
    first, *others = ledger.told[key]
    ledger.told[key] = (replace(first, change=Change.HARDER), *others)


async def export_lacks_an_answer(day: Day) -> None:
    lines = day.notes.exported["answers.csv"].splitlines(keepends=True)
    fewer = b"".join([*lines[: len(lines) // 2], *lines[len(lines) // 2 + 4 :]])
    day.notes.exported = {**day.notes.exported, "answers.csv": fewer}


async def export_is_torn(day: Day) -> None:
    torn = day.notes.exported["plan.toml"][:100]
    day.notes.exported = {**day.notes.exported, "plan.toml": torn}


# --- service -------------------------------------------------------------------------------


async def too_fast(day: Day) -> None:
    day.theatre.api.world.pacer.violations += 1


async def something_was_logged(day: Day) -> None:
    day.problems.append("bot: it broke")


async def a_letter_failed(day: Day) -> None:
    async with day.theatre.house.database.transaction() as tx:
        await tx.execute(
            "UPDATE outbox SET state = 'failed' WHERE id = (SELECT max(id) FROM outbox)"
        )


def _spoiled(spoil: Spoil, *noticed_by: str) -> Spoiled:
    how = getattr(spoil, "__name__", "").replace("_", " ")
    return Spoiled(how=how, spoil=spoil, noticed_by=noticed_by)


SPOILED = (
    _spoiled(no_digest, "digests"),
    _spoiled(digest_late, "digests"),
    _spoiled(digest_to_a_member, "digests"),
    _spoiled(no_picture, "digests"),
    _spoiled(one_of_two_late, "digests", "one minute"),
    _spoiled(first_sees_the_evening, "instructors"),
    _spoiled(substitute_sees_later, "instructors", "substitute"),
    _spoiled(substitute_sees_a_second_digest, "substitute"),
    _spoiled(member_sees_another, "members"),
    _spoiled(member_is_asked_anothers, "members"),
    _spoiled(chat_names_somebody, "members"),
    _spoiled(stranger_hears_a_name, "strangers"),
    _spoiled(alert_to_the_other, "urgent"),
    _spoiled(alert_not_to_both, "urgent"),
    _spoiled(alert_late, "urgent"),
    _spoiled(alert_not_again, "urgent"),
    _spoiled(alert_again_though_seen, "urgent"),
    _spoiled(asked_twice, "asked"),
    _spoiled(asked_early, "asked"),
    _spoiled(not_asked, "asked"),
    _spoiled(not_reminded, "asked"),
    _spoiled(chat_asked_twice, "asked"),
    _spoiled(answer_lost, "answers"),
    _spoiled(summed_up_twice, "summaries"),
    _spoiled(not_summed_up, "summaries"),
    _spoiled(not_moved, "moved"),
    _spoiled(not_told_of_the_move, "moved"),
    _spoiled(digest_at_the_old_hour, "moved"),
    _spoiled(other_plan_changed_too, "demands"),
    _spoiled(nothing_taken_over, "demands"),
    _spoiled(dose_changed_too, "demands"),
    _spoiled(joined_after_the_start, "newcomer"),
    _spoiled(newcomer_said_nothing, "newcomer", "asked", "answers"),
    _spoiled(harder_after_the_break, "break"),
    _spoiled(export_lacks_an_answer, "export"),
    _spoiled(export_is_torn, "export"),
    _spoiled(too_fast, "limits"),
    _spoiled(something_was_logged, "stuck"),
    _spoiled(a_letter_failed, "stuck"),
)
