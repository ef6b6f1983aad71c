"""An export read back without the bot, beside what the bot itself would have said."""

import tempfile
from dataclasses import replace
from datetime import date
from pathlib import Path

from bot.desk.advice import work_out
from bot.offline import Format, suggest
from bot.offline.shapes import as_json
from bot.reportsfile.write import distinct
from bot.storage.database import Transaction
from bot.storage.members import members
from bot.storage.sessions import Session
from core.suggestion import Advice

PLAN, ANSWERS = "plan.toml", "answers.csv"


async def as_the_bot_says(tx: Transaction, session: Session) -> str:
    """What the bot would say now for that class, in the shape of the offline command."""
    ready, people = await work_out(tx, session), await members(tx, session.group_id)
    plan, advice = ready.plan, ready.advice
    unique = distinct(each.name for each in people)
    names = {each.id: name for each, name in zip(people, unique, strict=True)}
    named = Advice(
        suggestions=tuple(replace(e, member=names[e.member]) for e in advice.suggestions),
        options=tuple(
            replace(e, members=tuple(sorted(names[each] for each in e.members)))
            for e in advice.options
        ),
        called=(),
        asks=tuple(replace(e, member=names[e.member]) for e in advice.asks),
    )
    return as_json(plan.plan, named, ())


def as_the_files_say(files: dict[str, bytes], on: date) -> str:
    """What the offline command suggests from those files; BadInput if they can't be read."""
    with tempfile.TemporaryDirectory(prefix="class-effort-demo-") as folder:
        plan, answers = Path(folder) / PLAN, Path(folder) / ANSWERS
        plan.write_bytes(files[PLAN])
        answers.write_bytes(files[ANSWERS])
        return suggest(plan, answers, on, format=Format.JSON)
