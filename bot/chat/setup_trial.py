"""The question after class, tried out by an instructor: it stores nothing."""

from bot.buttons import AnswerButton, TrialButton
from bot.chat.visit import Visit
from bot.desk.plan_changes import Coming, coming
from bot.storage import groups
from bot.timetable import local
from bot.words import toasts
from bot.words.prompt import Occasion
from bot.words.trial import trial_over, trial_question
from core.questions import Asked, Said, next_question


async def press(visit: Visit) -> None:
    """An answer of a trial: all of it is in the button, so nothing needs to be kept."""
    button, person = TrialButton.read(visit.data), visit.person
    if button is None or person is None or not await groups.leads(visit.tx, person, button.group):
        visit.toast = toasts.NOT_YOURS
        return
    held = await coming(visit.tx, await groups.group(visit.tx, button.group), visit.now)
    occasion = _occasion(visit, held, button)
    question = next_question(occasion.asked, occasion.answers)
    if question is None:
        await visit.replace(trial_over(visit.speech, button.group))
        return
    asked = trial_question(occasion, button.group, button.said, question)
    await (visit.say(asked) if button.anew else visit.replace(asked))


def _occasion(visit: Visit, held: Coming, button: TrialButton) -> Occasion:
    """The next class as a newcomer would be asked about it, with its first movement."""
    first = held.plan.plan.lines[0]
    asked = Asked(
        movement=first.movement.name,
        dose=first.dose,
        ladder=tuple(each.name for each in first.movement.ladder),
        reserve=True,
    )
    today = local(visit.now, held.plan.timezone).date()
    return Occasion(
        speech=visit.speech,
        prompt=button.group,
        group=held.group.name,
        on=today if held.session is None else held.session.local_day,
        plan=held.plan.plan,
        asked=(asked,),
        answers=_answers(visit, button),
        newcomer=True,
    )


def _answers(visit: Visit, button: TrialButton) -> dict[str, Said]:
    said: dict[str, Said] = {}
    for question, value in button.said:
        answer = AnswerButton.read(f"a:{button.group}:{question}:{value}")
        if answer is not None:
            said[str(question)] = Said(
                number=answer.number, word=answer.word, on_6_20=answer.on_6_20, at=visit.now
            )
    return said
