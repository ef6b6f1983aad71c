"""Answers are kept, wherever they were given, with everything that follows from them."""

from collections.abc import Mapping
from datetime import datetime

from bot.desk import prompts as desk
from bot.desk.alerts import note_symptom, watch_member
from bot.desk.prompts import OpenPrompt, Screen
from bot.desk.selfcheck import refresh
from bot.desk.shared_questions import recount
from bot.storage import prompts
from bot.storage.database import Transaction
from core.questions import SESSION, Question, Said, Topic, next_question


async def keep(
    tx: Transaction,
    opened: OpenPrompt,
    answers: Mapping[Question, Said],
    screen: Screen,
    update_id: int,
    now: datetime,
) -> Question | None:
    """Store answers, watch, and put the next question on screen; returns it, None if all is said.

    `update_id` says in which update they came: of two to the same question the later counts.
    """
    for question, said in answers.items():
        await prompts.put_answer(tx, opened.prompt, question, said, update_id)
    opened = await desk.with_answers(tx, opened)
    if any(question.topic in (Topic.HURT, Topic.WHERE) for question in answers):
        names = tuple(line.movement.name for line in opened.occasion.plan.lines)
        await note_symptom(tx, opened.session, opened.person, opened.answers, names, now)
    await watch_member(tx, opened.session.group_id, opened.person, screen.reason, now)
    if SESSION in answers:
        await recount(tx, opened.session, screen.reason, now)
    following = next_question(opened.prompt.asked, opened.answers)
    await desk.show(tx, opened, following, screen, now)
    if following is None:
        await refresh(tx, opened.session.group_id, opened.person, now)
    return following
